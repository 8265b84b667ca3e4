"""A crew's sheet as its page shows it: the newest plan, whether it still fits, its PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils import timezone

from crews.convert.kept import sheet_of_plan
from crews.dayplan.sheet import Sheet
from crews.dayplan.strip import draw_strip
from crews.models import Assignment, Crew, DayPlan
from crews.selectors.crews import crew_of_person
from crews.selectors.days import day_inputs, latest_plan, next_day_of
from crews.selectors.weather import DayShown, days_shown
from crews.selectors.work import WorkOfDay, work_of_day
from materials.selectors.orders import local_today
from openings.drawing.shapes import Drawing
from projects.jobs import latest
from projects.models import AuditEntry, Company, Job, User
from projects.printing import printed_hash
from projects.selectors import row_of

SHEET_KIND = "crew-sheet"
ONE_DAY = timedelta(days=1)
# What a crew's day hangs on; single quarters of a forecast would fill the list.
CHANGES = (
    "assign crew", "move assignment", "withdraw crew", "walk earlier", "edit crew", "add crew member",
    "remove crew member", "edit opening", "remove opening", "restore opening", "tick readiness",
    "set used kinds", "take on pair", "add instruction sheet", "withdraw instruction sheet",
    "accept windows", "report window damage", "send window back", "take back windows",
)  # fmt: skip
CHANGES_FOR, MOST_CHANGES = timedelta(hours=24), 6


@dataclass(frozen=True, slots=True)
class SheetPage:
    """A crew's day. `sheet` is None where none was made; `is_stale` says that something changed since.

    `work` is what was written down as done of the sheet's openings.
    """

    crew: Crew
    day: date
    sent: tuple[Assignment, ...]
    plan: DayPlan | None
    sheet: Sheet | None
    strip: Drawing | None
    is_stale: bool
    job: Job | None
    work: WorkOfDay

    @property
    def before(self) -> date:
        """Return the day before."""
        return self.day - ONE_DAY

    @property
    def after(self) -> date:
        """Return the day after."""
        return self.day + ONE_DAY

    @property
    def is_made(self) -> bool:
        """Return whether the sheet is there and fits what is planned now."""
        return self.sheet is not None and not self.is_stale

    @property
    def pdf(self) -> Job | None:
        """Return the job whose file is this sheet's PDF, None until it is there."""
        return self.job if self.job is not None and self.job.is_ready and self.job.file_path else None

    @property
    def houses(self) -> tuple[str, ...]:
        """Return the houses of the day, in walking order."""
        return tuple(dict.fromkeys(row.elevation.house.code for row in self.sent))


def sheet_page(company: Company, pk: int, day: date) -> SheetPage:
    """Return all that a crew's sheet shows. Raises NotThere."""
    crew = row_of(Crew, company, pk)
    inputs = day_inputs(company, crew, day)
    plan = latest_plan(company, crew, day)
    sheet = sheet_of_plan(plan) if plan and inputs.faces else None
    return SheetPage(
        crew=crew,
        day=day,
        sent=inputs.sent,
        plan=plan,
        sheet=sheet,
        strip=draw_strip(sheet) if sheet and sheet.visits else None,
        is_stale=plan is not None and plan.input_hash != inputs.input_hash,
        job=latest(company=company, kind=SHEET_KIND, input_hash=printed_hash(company, inputs.input_hash)),
        work=work_of_day(company, sheet),
    )


@dataclass(frozen=True, slots=True)
class MyDay:
    """A person's own day: the crew, its next day out, the sheet of it."""

    crew: Crew | None
    day: date | None
    today: date
    sheet: Sheet | None
    is_stale: bool


def my_day(company: Company, user: User) -> MyDay:
    """Return what comes next for the person: today's sheet, else that of the crew's next day out."""
    today = local_today(company)
    crew = crew_of_person(company, user)
    day = next_day_of(company, crew, today) if crew else None
    if crew is None or day is None:
        return MyDay(crew, None, today, None, is_stale=False)
    plan = latest_plan(company, crew, day)
    is_stale = plan is not None and plan.input_hash != day_inputs(company, crew, day).input_hash
    return MyDay(crew, day, today, sheet_of_plan(plan) if plan else None, is_stale)


@dataclass(frozen=True, slots=True)
class CrewToday:
    """One crew's day in a line: where it is, whether its sheet is made, what it leaves over."""

    crew: Crew
    sent: tuple[Assignment, ...]
    plan: DayPlan | None
    sheet: Sheet | None

    @property
    def places(self) -> str:
        """Return where it goes, in walking order."""
        return ", then ".join(f"{row.elevation.house.code} {row.elevation.name}" for row in self.sent)


@dataclass(frozen=True, slots=True)
class TodayPage:
    """A day's crews and the weather where they are."""

    day: date
    is_today: bool
    crews: tuple[CrewToday, ...]
    idle: tuple[Crew, ...]
    weather: tuple[DayShown, ...]
    changes: tuple[AuditEntry, ...]


def today_page(company: Company) -> TodayPage:
    """Return today's crews; on a day without any, those of the next day out. At most seven queries."""
    today = local_today(company)
    coming = Assignment.objects.of(company).filter(date__gte=today, crew__archived=False).order_by("date")
    day = coming.values_list("date", flat=True).first() or today
    rows = Assignment.objects.of(company).filter(date=day, crew__archived=False).order_by("position")
    sent: dict[int, list[Assignment]] = {}
    for row in rows.select_related("crew", "elevation__house__project"):
        sent.setdefault(row.crew_id, []).append(row)
    plans = {plan.crew_id: plan for plan in DayPlan.objects.of(company).filter(date=day).order_by("pk")}
    crews = list(Crew.objects.of(company).filter(archived=False))
    return TodayPage(
        day=day,
        is_today=day == today,
        crews=tuple(_today(crew, sent[crew.pk], plans.get(crew.pk)) for crew in crews if crew.pk in sent),
        idle=tuple(crew for crew in crews if crew.pk not in sent),
        weather=_weather(company, [row for found in sent.values() for row in found], day),
        changes=_changes(company),
    )


def _changes(company: Company) -> tuple[AuditEntry, ...]:
    """Return what was changed lately that a day hangs on, newest first."""
    since = timezone.now() - CHANGES_FOR
    entries = AuditEntry.objects.of(company).filter(action__in=CHANGES, at__gte=since)
    return tuple(entries.order_by("-id")[:MOST_CHANGES])


def _today(crew: Crew, sent: Sequence[Assignment], plan: DayPlan | None) -> CrewToday:
    return CrewToday(crew, tuple(sent), plan, sheet_of_plan(plan) if plan else None)


def _weather(company: Company, sent: Sequence[Assignment], day: date) -> tuple[DayShown, ...]:
    places = sorted({row.elevation.house.project.weather_place for row in sent} - {""})
    return tuple(days_shown(company, places, [day]).values())
