"""The specification of the company and of a project: every setting with its grade and source."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from openings import selectors, services
from openings.forms.specifications import SpecificationForm
from projects.access import allowed, member
from projects.models import Project
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_SPECIFICATION)
def company_wide(request: HttpRequest) -> HttpResponse:
    """Show and set what holds for all projects."""
    return _answer(request, None)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_SPECIFICATION)
def of_project(request: HttpRequest, pk: int) -> HttpResponse:
    """Show and set what holds for one project."""
    return _answer(request, row_of(Project, member(request).company, pk))


def _answer(request: HttpRequest, project: Project | None) -> HttpResponse:
    by = member(request)
    below = selectors.specification_below(by.company, project)
    history = selectors.specification_history(by.company, project)
    own = dict(history[0].settings) if history else {}
    sources = dict(history[0].sources) if history else {}

    def save(form: SpecificationForm) -> HttpResponse:
        version = services.set_specification(
            by=by,
            project=project,
            settings=form.settings,
            sources=form.sources(sources),
            note=form.cleaned_data["note"],
        )
        say(request, f"Version {version.number} of the specification is in force.")
        return redirect("project", project.pk) if project else redirect("specification")

    form = SpecificationForm.over(below)
    context = {"project": project, "history": history}
    return Editing(request, "openings/specification.html", form, save, own, context).answer()
