"""Of which materials strips may be spliced: seen, allowed, taken back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from materials import services
from materials.forms.splices import SpliceForm
from materials.models import SpliceRule
from materials.selectors.splices import splices_shown
from materials.views.stock import FORM, length_of
from projects.access import allowed, member
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_http_methods(FORM)
@allowed(Action.EDIT_SPECIFICATION)
def splices(request: HttpRequest) -> HttpResponse:
    """Show what may be spliced, and allow more."""
    by = member(request)

    def save(form: SpliceForm) -> HttpResponse:
        given = form.cleaned_data
        lap = length_of(given["lap"], field="lap")
        services.allow_splices(by=by, material=given["material"], lap=lap)
        say(request, "Cut lists that are made from now on may splice it. Pans stay in one piece.")
        return redirect("splices")

    context = {"splices": splices_shown(by.company)}
    return Editing(request, "materials/splices.html", SpliceForm, save, context=context).answer()


@require_POST
@allowed(Action.EDIT_SPECIFICATION)
def forbid(request: HttpRequest, pk: int) -> HttpResponse:
    """Cut strips of a material in one piece again."""
    by = member(request)
    services.forbid_splices(by=by, rule=row_of(SpliceRule, by.company, pk))
    say(request, "Its strips are cut in one piece again. To allow splices anew, choose it below.")
    return redirect("splices")
