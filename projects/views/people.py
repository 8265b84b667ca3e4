"""Who belongs to the company, and what holds for all of it: the owner's pages."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from projects import selectors, services
from projects.access import allowed, member
from projects.forms.people import CompanyForm, InviteForm, RoleForm
from projects.models import Membership
from projects.notices import say
from projects.rights import Action
from projects.views.editing import Editing

_COMPANY = ("name", "time_zone", "sheets_hour", "claim_days", "paper", "yard")


@require_safe
@allowed(Action.EDIT_PEOPLE)
def people(request: HttpRequest) -> HttpResponse:
    """List the company's people."""
    return render(request, "projects/people.html", {"people": selectors.people_of(member(request).company)})


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PEOPLE)
def invite(request: HttpRequest) -> HttpResponse:
    """Take in a person; the next page shows the link to hand over."""
    by = member(request)

    def save(form: InviteForm) -> HttpResponse:
        values = {name: form.cleaned_data[name] for name in ("email", "name", "role")}
        joined = services.invite_person(by=by, **values)
        say(request, f"{joined.name} belongs to the company now.")
        return redirect("person", joined.pk)

    return Editing(request, "projects/invite.html", InviteForm, save).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PEOPLE)
def person(request: HttpRequest, pk: int) -> HttpResponse:
    """Show one person, and change the role."""
    by = member(request)
    row = selectors.row_of(Membership, by.company, pk, "user")

    def save(form: RoleForm) -> HttpResponse:
        saved = services.change_role(
            by=by, membership=row, version=form.seen_version, role=form.cleaned_data["role"]
        )
        say(request, f"{saved.name} is {saved.get_role_display().lower()} now.")
        return redirect("people")

    initial = {"role": row.role, "version": row.version}
    context = {"person": row, "phones": selectors.phones_of(row.user)}
    return Editing(request, "projects/person.html", RoleForm, save, initial, context).answer()


@require_POST
@allowed(Action.EDIT_PEOPLE)
def show_link(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a link by which the person chooses a password; it works once, for three days."""
    row = selectors.row_of(Membership, member(request).company, pk, "user")
    path = reverse("choose-password", args=services.hand_out_link(by=member(request), membership=row))
    return render(request, "projects/link.html", {"person": row, "link": request.build_absolute_uri(path)})


@require_POST
@allowed(Action.EDIT_PEOPLE)
def end_membership(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a person out of the company; the next page offers to take it back."""
    row = services.end_membership(by=member(request), membership=_person(request, pk))
    say(request, f"{row.name} can no longer sign in here.", undo=reverse("person-restore", args=[row.pk]))
    return redirect("people")


@require_POST
@allowed(Action.EDIT_PEOPLE)
def restore_membership(request: HttpRequest, pk: int) -> HttpResponse:
    """Let a person in again."""
    row = services.restore_membership(by=member(request), membership=_person(request, pk))
    say(request, f"{row.name} can sign in again.")
    return redirect("people")


@require_POST
@allowed(Action.EDIT_PEOPLE)
def end_sessions(request: HttpRequest, pk: int) -> HttpResponse:
    """Sign a person out everywhere."""
    row = _person(request, pk)
    services.end_sessions(by=member(request), membership=row)
    say(request, f"{row.name} is signed out on every phone and computer.")
    return redirect("people")


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_COMPANY)
def company(request: HttpRequest) -> HttpResponse:
    """Change what holds for the whole company."""
    by = member(request)

    def save(form: CompanyForm) -> HttpResponse:
        values = {name: form.cleaned_data[name] for name in _COMPANY}
        services.edit_company(by=by, version=form.seen_version, **values)
        say(request, "The company's settings are saved.")
        return redirect("company")

    initial = {name: getattr(by.company, name) for name in (*_COMPANY, "version")}
    return Editing(request, "projects/company.html", CompanyForm, save, initial).answer()


def _person(request: HttpRequest, pk: int) -> Membership:
    return selectors.row_of(Membership, member(request).company, pk, "user")
