"""What fits what: the table, what the company and each project use, and who answers for the rest."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from materials import services
from materials.compatibility.load import load_pairs
from materials.forms.compatibility import KindsForm, TakeOnForm
from materials.models import UsedKinds
from materials.selectors import compatibility as reading
from materials.views.stock import FORM
from projects.access import allowed, member, wants_part
from projects.errors import NotThere
from projects.models import Project
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_safe
@allowed(Action.SEE_HOUSES)
def table(request: HttpRequest) -> HttpResponse:
    """Show every pair with its source, what the company usually uses, and the projects that wait."""
    page = reading.table_page(member(request).company)
    return render(request, "materials/compatibility.html", {"page": page})


@require_safe
@allowed(Action.SEE_HOUSES)
def of_project(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what a project uses together, what is said of it, and who answers for it."""
    shown = reading.project_pairs(member(request).company, pk)
    template = "materials/project_pairs.html"
    context = {"shown": shown, "project": shown.project}
    return render(request, f"{template}#state" if wants_part(request) else template, context)


@require_http_methods(FORM)
@allowed(Action.JUDGE_PAIRS)
def usual_kinds(request: HttpRequest) -> HttpResponse:
    """Say what the company usually uses."""
    return _kinds(request, None, reverse("compatibility"))


@require_http_methods(FORM)
@allowed(Action.JUDGE_PAIRS)
def project_kinds(request: HttpRequest, pk: int) -> HttpResponse:
    """Say what a project uses."""
    project = row_of(Project, member(request).company, pk)
    return _kinds(request, project, reverse("project-pairs", args=[pk]))


@require_http_methods(FORM)
@allowed(Action.JUDGE_PAIRS)
def take_on(request: HttpRequest, pk: int, one: str, other: str) -> HttpResponse:
    """Let a named person answer for two kinds on a project."""
    by = member(request)
    shown = reading.project_pairs(by.company, pk)
    pair = next((pair for pair in shown.pairs if pair.judged.keys == (one, other)), None)
    if pair is None:
        raise NotThere

    def save(form: TakeOnForm) -> HttpResponse:
        cleaned = form.cleaned_data
        row = services.take_on_pair(
            by=by,
            project=shown.project,
            one=one,
            other=other,
            person=cleaned["person"],
            reason=cleaned["reason"],
        )
        say(request, f"{row.person} answers for {pair.judged.told}.")
        return redirect("project-pairs", pk)

    context = {"shown": shown, "project": shown.project, "pair": pair}
    return Editing(
        request, "materials/pair_form.html", TakeOnForm, save, {"person": by.name}, context
    ).answer()


def _kinds(request: HttpRequest, project: Project | None, back: str) -> HttpResponse:
    by = member(request)
    row = reading.used_kinds(by.company, project)

    def save(form: KindsForm) -> HttpResponse:
        services.set_kinds(
            by=by, project=project, kinds=form.cleaned_data["kinds"], version=form.seen_version
        )
        say(request, "The kinds in use are saved. Pairs that changed ask for a name anew.")
        return redirect(back)

    initial = _entry(row) if row else {}
    context = {"project": project, "back": back}
    return Editing(request, "materials/kinds_form.html", KindsForm, save, initial, context, _entry).answer()


def _entry(row: UsedKinds) -> dict[str, object]:
    return {"kinds": [key for key in load_pairs().kinds if key in row.kinds], "version": row.version}
