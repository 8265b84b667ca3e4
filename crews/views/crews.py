"""Crews and their people: listed, set up, changed, put away and back."""

from __future__ import annotations

from datetime import time
from decimal import Decimal
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from crews import services
from crews.forms.crews import CrewForm, MemberForm, RentalsForm, WageForm, entry_of, money_of, wage_of
from crews.models import Crew, CrewMember, Rental
from crews.models.crew import PAR_LIST
from crews.selectors import costs, crews
from projects.access import allowed, member
from projects.models import Access
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing

USUAL_DAY = {
    "day_start": time(7),
    "day_end": time(15, 30),
    "breaks": "9:30-9:45, 12:00-12:30",
    "set_up_min": 75,
    "clean_up_min": 30,
    "par_list": "\n".join(PAR_LIST),
}


@require_safe
@allowed(Action.SEE_PLAN)
def crew_list(request: HttpRequest) -> HttpResponse:
    """Show the crews by code, or those that are archived."""
    archived = request.GET.get("archived") == "yes"
    context = {"crews": crews.crews_of(member(request).company, archived=archived), "archived": archived}
    return render(request, "crews/crews.html", context)


@require_safe
@allowed(Action.SEE_PLAN)
def crew(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a crew with its people."""
    found = crews.crew_page(member(request).company, pk)
    return render(request, "crews/crew.html", {"crew": found})


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PLAN)
def create(request: HttpRequest) -> HttpResponse:
    """Set up a crew."""
    by = member(request)

    def save(form: CrewForm) -> HttpResponse:
        made = services.create_crew(
            by=by, code=form.cleaned_data["code"], name=form.cleaned_data["name"], **form.day
        )
        say(request, f"Crew {made.code} is set up. Add its people next.")
        return redirect("crew", made.pk)

    form = CrewForm.among(crews.people_to_choose(by.company))
    return Editing(request, "crews/crew_form.html", form, save, USUAL_DAY).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PLAN)
def edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a crew and its day."""
    by = member(request)
    row = row_of(Crew, by.company, pk)

    def save(form: CrewForm) -> HttpResponse:
        saved = services.edit_crew(
            by=by,
            crew=row,
            version=form.seen_version,
            code=form.cleaned_data["code"],
            name=form.cleaned_data["name"],
            **form.day,
        )
        say(request, f"Crew {saved.code} is saved.")
        return redirect("crew", saved.pk)

    form = CrewForm.among(crews.people_to_choose(by.company))
    return Editing(
        request, "crews/crew_form.html", form, save, entry_of(row), {"crew": row}, entry=entry_of
    ).answer()


@require_POST
@allowed(Action.EDIT_PLAN)
def archive(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a crew away; the next page offers to take it back."""
    row = services.archive_crew(by=member(request), crew=row_of(Crew, member(request).company, pk))
    say(request, f"Crew {row.code} is archived.", undo=reverse("crew-restore", args=[row.pk]))
    return redirect("crews")


@require_POST
@allowed(Action.EDIT_PLAN)
def restore(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a crew out of the archive."""
    row = services.restore_crew(by=member(request), crew=row_of(Crew, member(request).company, pk))
    say(request, f"Crew {row.code} is back.", undo=reverse("crew-archive", args=[row.pk]))
    return redirect("crew", row.pk)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PLAN)
def add_person(request: HttpRequest, pk: int) -> HttpResponse:
    """Add a pair of hands to a crew."""
    by = member(request)
    row = row_of(Crew, by.company, pk)

    def save(form: MemberForm) -> HttpResponse:
        made = services.add_member(by=by, crew=row, **_person(form))
        say(request, f"{made.name} is in {row.code}.", undo=reverse("member-remove", args=[made.pk]))
        return redirect("crew", row.pk)

    form = MemberForm.among(crews.people_to_choose(by.company))
    return Editing(request, "crews/member_form.html", form, save, context={"crew": row}).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PLAN)
def edit_person(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a person of a crew."""
    by = member(request)
    row = row_of(CrewMember, by.company, pk, "crew")

    def save(form: MemberForm) -> HttpResponse:
        saved = services.edit_member(by=by, member=row, version=form.seen_version, **_person(form))
        say(request, f"{saved.name} is saved.")
        return redirect("crew", row.crew_id)

    initial = {"name": row.name, "grade": row.grade, "user": row.user_id, "version": row.version}
    form = MemberForm.among(crews.people_to_choose(by.company))
    context = {"crew": row.crew, "person": row}
    return Editing(request, "crews/member_form.html", form, save, initial, context).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.SEE_COSTS)
def wage(request: HttpRequest, pk: int) -> HttpResponse:
    """Set what an hour of a person costs."""
    by = member(request)
    row = row_of(CrewMember, by.company, pk, "crew")

    def save(form: WageForm) -> HttpResponse:
        amount = money_of(form.cleaned_data["wage"], by.company.currency)
        services.set_wage(
            by=by,
            member=row,
            wage=amount,
            burden_percent=form.cleaned_data["burden_percent"],
            version=form.seen_version,
        )
        say(request, f"{row.name}'s wage is saved.")
        return redirect("crew", row.crew_id)

    context = {"crew": row.crew, "person": row}
    return Editing(
        request, "crews/wage_form.html", WageForm, save, wage_of(row), context, entry=wage_of
    ).answer()


@require_POST
@allowed(Action.EDIT_PLAN)
def remove_person(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a person out of a crew; the next page offers the way back."""
    by = member(request)
    row = services.remove_member(by=by, member=row_of(CrewMember, by.company, pk))
    say(request, f"{row.name} is out of the crew.", undo=reverse("member-restore", args=[row.pk]))
    return redirect("crew", row.crew_id)


@require_POST
@allowed(Action.EDIT_PLAN)
def restore_person(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a person back into a crew."""
    by = member(request)
    row = services.restore_member(by=by, member=row_of(CrewMember, by.company, pk))
    say(request, f"{row.name} is back in the crew.", undo=reverse("member-remove", args=[row.pk]))
    return redirect("crew", row.crew_id)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.SEE_COSTS)
def rentals(request: HttpRequest) -> HttpResponse:
    """Set what a day of a ladder and of a lift costs."""
    by = member(request)
    found = costs.rentals_of(by.company)

    def save(form: RentalsForm) -> HttpResponse:
        cleaned = form.cleaned_data
        services.set_rentals(
            by=by,
            version=form.seen_version,
            per_day={
                access: money_of(cleaned[access.value], by.company.currency)
                for access in (Access.LADDER, Access.LIFT)
            },
            source=cleaned["source"],
        )
        say(request, "The rents are saved; every planned cost follows them.")
        return redirect("costs")

    def entry(_: Rental | None = None) -> dict[str, Any]:
        rents = costs.rentals_of(by.company)
        return {
            # as the field reads it, so that an equal amount is no difference
            **{access: Decimal(rent.per_day.as_text) for access, rent in rents.items()},
            "source": next(iter(rents.values())).source,
            "version": costs.rentals_version(by.company),
        }

    return Editing(
        request, "crews/rentals.html", RentalsForm, save, entry(), {"rents": found}, entry=entry
    ).answer()


def _person(form: MemberForm) -> dict[str, Any]:
    return {name: form.cleaned_data[name] for name in ("name", "grade", "user")}
