"""Projects and the houses in them: lists, forms, putting away and back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from projects import selectors, services
from projects.access import allowed, member, wants_part
from projects.forms.houses import HouseForm, ProjectForm
from projects.models import House, Project
from projects.navigation import address_of
from projects.notices import say
from projects.rights import Action
from projects.views.editing import Editing

_PROJECT = ("code", "name", "builder", "delivery_place", "weather_place")
_HOUSE = ("code", "name", "plan_name", "pre_1978")


@require_safe
@allowed(Action.SEE_HOUSES)
def projects(request: HttpRequest) -> HttpResponse:
    """List the company's projects."""
    search, archived = request.GET.get("q", ""), request.GET.get("archived") == "yes"
    page = selectors.projects_page(
        member(request).company, search=search, archived=archived, page=request.GET.get("page", "1")
    )
    context = {"page": page, "search": search, "archived": archived}
    return render(request, _part(request, "projects/projects.html", "rows"), context)


@require_safe
@allowed(Action.SEE_HOUSES)
def project(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a project with its houses."""
    search, archived = request.GET.get("q", ""), request.GET.get("archived") == "yes"
    found = selectors.project_page(
        member(request).company, pk, search=search, archived=archived, page=request.GET.get("page", "1")
    )
    context = {
        "project": found.project,
        "page": found.houses,
        "archived_houses": found.archived_houses,
        "search": search,
        "archived": archived,
    }
    return render(request, _part(request, "projects/project.html", "rows"), context)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PROJECTS)
def create_project(request: HttpRequest) -> HttpResponse:
    """Take in a new project; `like` names one whose builder and places it starts from."""
    by = member(request)
    initial: dict[str, object] = {}
    if (like := request.GET.get("like", "")).isdecimal() and len(like) < 18:
        model = selectors.row_of(Project, by.company, int(like))
        initial = {name: getattr(model, name) for name in ("builder", "delivery_place", "weather_place")}

    def save(form: ProjectForm) -> HttpResponse:
        created = services.create_project(by=by, **{name: form.cleaned_data[name] for name in _PROJECT})
        say(request, f"Project {created.name} is set up. Add its first house.")
        return redirect("project", created.pk)

    return Editing(request, "projects/project_form.html", ProjectForm, save, initial).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PROJECTS)
def edit_project(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a project."""
    by = member(request)
    row = selectors.row_of(Project, by.company, pk)

    def save(form: ProjectForm) -> HttpResponse:
        values = {name: form.cleaned_data[name] for name in _PROJECT}
        saved = services.edit_project(by=by, project=row, version=form.seen_version, **values)
        say(request, f"Project {saved.name} is saved.")
        return redirect("project", saved.pk)

    initial = {name: getattr(row, name) for name in (*_PROJECT, "version")}
    return Editing(
        request, "projects/project_form.html", ProjectForm, save, initial, {"project": row}
    ).answer()


@require_POST
@allowed(Action.EDIT_PROJECTS)
def archive_project(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a project away; the next page offers to take it back."""
    row = services.archive_project(
        by=member(request), project=selectors.row_of(Project, member(request).company, pk)
    )
    say(request, f"Project {row.name} is archived.", undo=reverse("project-restore", args=[row.pk]))
    return redirect("projects")


@require_POST
@allowed(Action.EDIT_PROJECTS)
def restore_project(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a project back from the archive."""
    row = services.restore_project(
        by=member(request), project=selectors.row_of(Project, member(request).company, pk)
    )
    say(request, f"Project {row.name} is back in the list.")
    return redirect("project", row.pk)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PROJECTS)
def create_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Take in a new house of a project."""
    by = member(request)
    row = selectors.row_of(Project, by.company, pk)

    def save(form: HouseForm) -> HttpResponse:
        values = {name: form.cleaned_data[name] for name in _HOUSE}
        created = services.create_house(by=by, project=row, **values)
        say(request, f"House {created.code} is set up. Import its window schedule next.")
        return redirect(address_of("house", created.pk) or reverse("project", args=[row.pk]))

    return Editing(request, "projects/house_form.html", HouseForm, save, context={"project": row}).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PROJECTS)
def edit_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a house."""
    by = member(request)
    row = selectors.row_of(House, by.company, pk, "project")

    def save(form: HouseForm) -> HttpResponse:
        values = {name: form.cleaned_data[name] for name in _HOUSE}
        saved = services.edit_house(by=by, house=row, version=form.seen_version, **values)
        say(request, f"House {saved.code} is saved.")
        return redirect(address_of("house", saved.pk) or reverse("project", args=[saved.project_id]))

    initial = {name: getattr(row, name) for name in (*_HOUSE, "version")}
    context = {"project": row.project, "house": row}
    return Editing(request, "projects/house_form.html", HouseForm, save, initial, context).answer()


@require_POST
@allowed(Action.EDIT_PROJECTS)
def archive_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a house away; the next page offers to take it back."""
    row = services.archive_house(
        by=member(request), house=selectors.row_of(House, member(request).company, pk)
    )
    say(request, f"House {row.code} is archived.", undo=reverse("house-restore", args=[row.pk]))
    return redirect("project", row.project_id)


@require_POST
@allowed(Action.EDIT_PROJECTS)
def restore_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a house back from the archive."""
    row = services.restore_house(
        by=member(request), house=selectors.row_of(House, member(request).company, pk)
    )
    say(request, f"House {row.code} is back in the list.")
    return redirect("project", row.project_id)


def _part(request: HttpRequest, template: str, part: str) -> str:
    return f"{template}#{part}" if wants_part(request, part) else template
