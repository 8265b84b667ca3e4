"""The takeoff of a house and of a project: rolls, tubes, fasteners, corner patches first."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from materials.documents import takeoff_file
from materials.selectors import takeoff as selectors
from projects.access import allowed, member, wants_part
from projects.rights import Action
from projects.views.files import file_answer


@require_safe
@allowed(Action.SEE_HOUSES)
def house_takeoff(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what a house needs in all."""
    house, takeoff = selectors.house_takeoff(member(request).company, pk)
    context = {"house": house, "project": house.project, "takeoff": takeoff}
    return _answer(request, context)


@require_safe
@allowed(Action.SEE_HOUSES)
def project_takeoff(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what all houses of a project need together."""
    project, takeoff = selectors.project_takeoff(member(request).company, pk)
    return _answer(request, {"project": project, "takeoff": takeoff})


@require_safe
@allowed(Action.SEE_HOUSES)
def house_file(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """Hand out what a house needs as a table."""
    house, takeoff = selectors.house_takeoff(member(request).company, pk)
    return file_answer(takeoff_file(house.project, house, takeoff, form))


@require_safe
@allowed(Action.SEE_HOUSES)
def project_file(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """Hand out what a project's houses need, together and each, as a table."""
    project, takeoff = selectors.project_takeoff(member(request).company, pk)
    return file_answer(takeoff_file(project, None, takeoff, form))


def _answer(request: HttpRequest, context: dict[str, object]) -> HttpResponse:
    template = "materials/takeoff.html"
    return render(request, f"{template}#rollup" if wants_part(request) else template, context)
