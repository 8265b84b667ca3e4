"""What every page with a form does: show it, save it, and answer a refusal with the entry kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from projects.errors import StaleVersion, UserError
from projects.forms.plain import PlainForm


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that two people filled in differently."""

    label: str
    theirs: Any
    yours: Any


@dataclass(slots=True)
class Editing:
    """One form on one page. `save` runs the service with the cleaned form and returns where to go."""

    request: HttpRequest
    template: str
    form: type[PlainForm]
    save: Callable[[Any], HttpResponse]
    initial: Mapping[str, Any] = field(default_factory=dict)
    context: Mapping[str, Any] = field(default_factory=dict)

    def answer(self) -> HttpResponse:
        """Return the page with the form, or what saving it leads to."""
        if self.request.method != "POST":
            return self._page(self.form(initial=dict(self.initial)), HTTPStatus.OK)
        form = self.form(self.request.POST, self.request.FILES)
        if not form.is_valid():
            return self._page(form, HTTPStatus.UNPROCESSABLE_ENTITY)
        try:
            return self.save(form)
        except StaleVersion as error:
            return self._page(*self._after_somebody_else(form, error))
        except UserError as error:
            if error.status in {HTTPStatus.FORBIDDEN, HTTPStatus.NOT_FOUND}:
                raise
            form.refuse(error)
            return self._page(form, error.status)

    def _after_somebody_else(
        self, form: PlainForm, error: StaleVersion
    ) -> tuple[PlainForm, int, list[Difference]]:
        row = error.parameters["row"]
        form.refuse(error)
        differences = [
            Difference(
                label=str(bound.label), theirs=getattr(row, bound.name), yours=form.cleaned_data[bound.name]
            )
            for bound in form.visible_fields()
            if hasattr(row, bound.name)
            and bound.name in form.cleaned_data
            and getattr(row, bound.name) != form.cleaned_data[bound.name]
        ]
        # saving again is then a decision made with both values in sight
        entered = self.request.POST.copy()
        entered["version"] = str(getattr(row, "version", ""))
        form.data = entered
        return form, HTTPStatus.CONFLICT, differences

    def _page(
        self, form: PlainForm, status: int, differences: list[Difference] | None = None
    ) -> HttpResponse:
        values = {**self.context, "form": form, "differences": differences or []}
        return render(self.request, self.template, values, status=status)
