"""What every page with a form does: show it, save it, and answer a refusal with the entry kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Any, cast

from django.forms import BooleanField, ChoiceField, Field, MultipleChoiceField
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from projects.errors import StaleVersion, UserError
from projects.forms.plain import PlainForm


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that two people filled in differently."""

    label: str
    theirs: str
    yours: str


@dataclass(slots=True)
class Editing:
    """One form on one page. `save` runs the service with the cleaned form and returns where to go.

    `entry` returns a row as the form shows it, where the form's fields are not the row's own.
    """

    request: HttpRequest
    template: str
    form: type[PlainForm]
    save: Callable[[Any], HttpResponse]
    initial: Mapping[str, Any] = field(default_factory=dict)
    context: Mapping[str, Any] = field(default_factory=dict)
    entry: Callable[[Any], Mapping[str, Any]] | None = None

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
        now = self.entry(row) if self.entry else _columns(row, form)
        differences = [
            Difference(
                label=str(bound.label),
                theirs=_told(bound.field, now[bound.name]),
                yours=_told(bound.field, bound.data),
            )
            for bound in form.visible_fields()
            if bound.name in now and bound.field.has_changed(now[bound.name], bound.data)
        ]
        # saving again is then a decision made with both values in sight
        entered = self.request.POST.copy()
        entered["version"] = str(now.get("version", getattr(row, "version", "")))
        form.data = entered
        return form, HTTPStatus.CONFLICT, differences

    def _page(
        self, form: PlainForm, status: int, differences: list[Difference] | None = None
    ) -> HttpResponse:
        values = {**self.context, "form": form, "differences": differences or []}
        return render(self.request, self.template, values, status=status)


def _columns(row: Any, form: PlainForm) -> dict[str, Any]:
    return {name: getattr(row, name) for name in form.fields if hasattr(row, name)}


def _told(of: Field, value: Any) -> str:
    """Return a field's value as a person reads it: the words of a choice, yes or no for a tick."""
    if isinstance(of, BooleanField):
        return "yes" if of.to_python(value) else "no"
    if isinstance(of, ChoiceField):
        named = {str(key): str(words) for key, words in cast(Any, of.choices)}
        if isinstance(of, MultipleChoiceField):
            return ", ".join(named.get(str(one), str(one)) for one in value or ())
        return named.get(str(value), str(value or ""))
    return "" if value is None else str(value)
