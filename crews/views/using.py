"""What a crew used on its day, written down in the evening, house by house."""

from __future__ import annotations

import secrets
from datetime import date
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from crews.forms.using import UsedForm
from crews.selectors.using import HouseUse, use_page
from crews.services.using import record_use
from projects.access import allowed, member
from projects.errors import NotThere, UserError
from projects.notices import say
from projects.rights import Action


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.USE_STOCK)
def used(request: HttpRequest, pk: int, day: date) -> HttpResponse:
    """Show what is within the crew's reach at each house of the day; write down what was used at one."""
    by = member(request)
    page = use_page(by.company, pk, day)
    forms = [(each, _form(each)) for each in page.houses]
    if request.method != "POST":
        return render(request, "crews/used.html", {"page": page, "forms": forms})
    chosen = next((each for each in page.houses if str(each.house.pk) == request.POST.get("house")), None)
    if chosen is None:
        raise NotThere
    form = UsedForm.of(chosen.lines)(request.POST, auto_id=f"h{chosen.house.pk}-%s")
    status: int = HTTPStatus.UNPROCESSABLE_ENTITY
    if form.is_valid():
        try:
            key = form.cleaned_data["key"]
            record_use(by=by, crew=page.crew, day=day, house=chosen.house, used=form.used, key=key)
        except UserError as error:
            form.refuse(error)
            status = error.status
        else:
            say(request, f"What was used at {chosen.house.code} stands in the ledger.")
            return redirect("house-stock", chosen.house.pk)
    shown = [(each, form if each is chosen else fresh) for each, fresh in forms]
    return render(request, "crews/used.html", {"page": page, "forms": shown, "form": form}, status=status)


def _form(each: HouseUse) -> UsedForm:
    form = UsedForm.of(each.lines)
    return form(initial={"key": secrets.token_hex(8)}, auto_id=f"h{each.house.pk}-%s")
