"""The week: houses down, days across, each crew on the elevation it is sent to; sending by taps."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from crews import services
from crews.convert.words import day_told
from crews.documents import crew_days_calendar
from crews.errors import Clash
from crews.models import Assignment, Crew
from crews.selectors.sending import assignment_of, sending_page
from crews.selectors.week import current_monday, week_page
from materials.selectors.demand import monday_of
from projects.access import allowed, member, wants_part
from projects.errors import NotThere
from projects.messages import words
from projects.models import Elevation
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.files import file_answer

FROM_ELEVATION = "elevation"
FROM_PAGE = "from_page"
LARGEST_ROW = 10**18


@require_safe
@allowed(Action.SEE_PLAN)
def week(request: HttpRequest, day: date | None = None) -> HttpResponse:
    """Show a week: the one that is planned now, or the one of `day`."""
    by = member(request)
    company = by.company
    if day is not None and day != monday_of(day):
        return redirect("week-of", monday_of(day))
    page = week_page(
        company,
        day or current_monday(company),
        crew=_number(request.GET.get("crew", "")),
        user=by.user,
        page=request.GET.get("page", "1"),
    )
    return render(request, "crews/week.html", {"page": page})


@require_safe
@allowed(Action.SEE_PLAN)
def calendar(request: HttpRequest, day: date) -> HttpResponse:
    """Hand out the crews' days from the week of `day` on as a calendar."""
    company = member(request).company
    return file_answer(crew_days_calendar(company, since=monday_of(day), at=timezone.now()))


@require_safe
@allowed(Action.SEE_PLAN)
def home_week(request: HttpRequest) -> HttpResponse:
    """Show this week's elevations and crews in short, for the foreman's first page."""
    company = member(request).company
    page = week_page(company, current_monday(company), only_sent=True)
    template = "crews/home_week.html"
    return render(request, f"{template}#short" if wants_part(request) else template, {"page": page})


@require_safe
@allowed(Action.SEE_PLAN)
def elevation(request: HttpRequest, pk: int) -> HttpResponse:
    """Show one elevation with the crews and days it could have."""
    return render(request, "crews/elevation.html", _sending(request, pk))


@require_POST
@allowed(Action.EDIT_PLAN)
def assign(request: HttpRequest, pk: int, crew: int, day: date) -> HttpResponse:
    """Send a crew to an elevation; where another crew is there that day, say so with two ways out."""
    by = member(request)
    row = row_of(Crew, by.company, crew)
    face = row_of(Elevation, by.company, pk, "house__project", "house__company")
    try:
        sent = services.assign_crew(by=by, crew=row, elevation=face, day=day)
    except Clash as clash:
        return _clash(request, clash, row, day)
    _say_sent(request, sent, undo=reverse("assignment-withdraw", args=[sent.assignment.pk]))
    return _back(request, sent.assignment)


@require_POST
@allowed(Action.EDIT_PLAN)
def move(request: HttpRequest, pk: int, crew: int, day: date) -> HttpResponse:
    """Give an assignment another crew or another day; taking over is this too."""
    by = member(request)
    row = assignment_of(by.company, pk)
    before = reverse("assignment-move", args=[row.pk, row.crew_id, row.date])
    target = row_of(Crew, by.company, crew)
    try:
        sent = services.move_assignment(by=by, assignment=row, crew=target, day=day)
    except Clash as clash:
        return _clash(request, clash, target, day)
    _say_sent(request, sent, undo=before)
    return _back(request, sent.assignment)


@require_POST
@allowed(Action.EDIT_PLAN)
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a crew off an elevation; the next page offers to send it again."""
    by = member(request)
    row = assignment_of(by.company, pk)
    gone = services.withdraw_assignment(by=by, assignment=row)
    undo = reverse("assign", args=[gone.elevation.pk, gone.crew.pk, gone.day])
    say(request, f"{gone.crew.code} is off {_named(gone.elevation)} on {day_told(gone.day)}.", undo=undo)
    return _back(request, row)


@require_POST
@allowed(Action.EDIT_PLAN)
def earlier(request: HttpRequest, pk: int) -> HttpResponse:
    """Let a crew go to this elevation before the one that stood before it."""
    by = member(request)
    row = services.walk_earlier(by=by, assignment=assignment_of(by.company, pk))
    say(request, f"{row.crew.code} now goes to {_named(row.elevation)} earlier on {day_told(row.date)}.")
    return redirect("sheet", row.crew_id, row.date)


def _sending(request: HttpRequest, pk: int) -> dict[str, object]:
    company = member(request).company
    monday = _monday(request.GET.get("from", "")) or current_monday(company)
    page = sending_page(company, pk, monday)
    return {"page": page, "house": page.elevation.house, "project": page.elevation.house.project}


def _clash(request: HttpRequest, clash: Clash, crew: Crew, day: date) -> HttpResponse:
    there = clash.parameters["there"]
    if not isinstance(there, Assignment):
        raise NotThere
    page = sending_page(crew.company, there.elevation_id, monday_of(day))
    row = next((row for row in page.rows if row.crew.row.pk == crew.pk), None)
    context = {
        "page": page,
        "told": words(clash),
        "there": there,
        "crew": crew,
        "day": day,
        "row": row,
        "house": page.elevation.house,
        "project": page.elevation.house.project,
    }
    return render(request, "crews/clash.html", context, status=clash.status)


def _say_sent(request: HttpRequest, sent: services.Sent, *, undo: str) -> None:
    row = sent.assignment
    told = f"{row.crew.code} goes to {_named(row.elevation)} on {day_told(row.date)}."
    say(request, " ".join([told, *sent.warnings]), undo=undo)


def _back(request: HttpRequest, row: Assignment) -> HttpResponse:
    """Go back to where the person tapped: the elevation's page, else its row in the week."""
    monday = monday_of(row.date)
    if request.POST.get("back") == FROM_ELEVATION:
        return redirect(f"{reverse('elevation-crews', args=[row.elevation_id])}?from={monday}")
    page = _number(request.POST.get(FROM_PAGE, "")) or 1
    address = reverse("week-of", args=[monday])
    return redirect(f"{address}?crew={row.crew_id}&page={page}#elevation-{row.elevation_id}")


def _monday(text: str) -> date | None:
    try:
        return monday_of(date.fromisoformat(text))
    except (ValueError, OverflowError):
        return None


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and int(text) < LARGEST_ROW else None


def _named(face: Elevation) -> str:
    return f"{face.house.code} {face.name}"
