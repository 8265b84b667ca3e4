"""By when each elevation's membrane must be covered: last membrane day and the sheet's exposure limit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Max, Min

from crews.models import Assignment
from materials.compatibility.exposure import Limit, cover_by
from materials.models import CoveredFace
from materials.selectors.demand import WEEK, monday_of, openings_demand
from materials.selectors.instructions import exposure_limit, sheets_in_force
from materials.selectors.orders import local_today
from openings.selectors import live_openings
from projects.models import Company, Elevation, House, Project
from projects.selectors import row_of


@dataclass(frozen=True, slots=True)
class OpenFace:
    """An elevation whose membrane lies open, or will this week: its last membrane day and its limit."""

    elevation: Elevation
    last_day: date
    limit: Limit
    today: date

    @property
    def cover_by(self) -> date:
        """Return the last day on which it may still be covered."""
        return cover_by(self.last_day, self.limit)

    @property
    def days_left(self) -> int:
        """Return how many days are left from today: 0 on the last one, below 0 where it has passed."""
        return (self.cover_by - self.today).days

    @property
    def is_past(self) -> bool:
        """Return whether the date has passed."""
        return self.days_left < 0

    @property
    def is_done(self) -> bool:
        """Return whether the last membrane day has come, so that it can be covered."""
        return self.last_day <= self.today

    @property
    def left_told(self) -> str:
        """Return the days left in words."""
        days = abs(self.days_left)
        counted = f"{days} day{'' if days == 1 else 's'}"
        if self.is_past:
            return f"passed {counted} ago"
        return "today is the last day" if not days else counted


@dataclass(frozen=True, slots=True)
class CoverPage:
    """The week's list: what has passed first, then by the day it must be covered."""

    monday: date
    today: date
    faces: tuple[OpenFace, ...]

    @property
    def past(self) -> int:
        """Return how many dates have passed."""
        return sum(face.is_past for face in self.faces)

    @property
    def projects(self) -> tuple[Project, ...]:
        """Return the projects on the list by name: each builder gets his own part."""
        found = {face.elevation.house.project_id: face.elevation.house.project for face in self.faces}
        return tuple(sorted(found.values(), key=lambda project: project.name))


def cover_page(company: Company, *, project: Project | None = None, house: House | None = None) -> CoverPage:
    """Return what lies open in this week at the company, of one project or house where named.

    An elevation is on the list from the week of its first crew day until it is covered after its last.
    """
    today = local_today(company)
    monday = monday_of(today)
    days = _crew_days(company, before=monday + WEEK, project=project, house=house)
    faces = {
        face.pk: face
        for face in Elevation.objects.of(company)
        .filter(pk__in=days)
        .select_related("house__project__company", "house__company")
    }
    limits = _limits(company, list(faces.values()), today)
    shown = [OpenFace(faces[pk], days[pk], limit, today) for pk, limit in limits.items()]
    return CoverPage(monday, today, tuple(sorted(shown, key=_order)))


def house_cover_page(company: Company, pk: int) -> tuple[House, CoverPage]:
    """Return a house with its part of the list. Raises NotThere."""
    house = row_of(House, company, pk, "project__company")
    return house, cover_page(company, house=house)


def _crew_days(
    company: Company, *, before: date, project: Project | None, house: House | None
) -> dict[int, date]:
    """Return the last crew day of each elevation whose first comes by the week's end and lies open."""
    rows = Assignment.objects.of(company).filter(
        elevation__house__archived=False, elevation__house__project__archived=False
    )
    if project is not None:
        rows = rows.filter(elevation__house__project=project)
    if house is not None:
        rows = rows.filter(elevation__house=house)
    spans = (rows.order_by().values_list("elevation").annotate(first=Min("date"), last=Max("date"))).filter(
        first__lt=before
    )
    found = {pk: last for pk, _, last in spans}
    covered = dict(CoveredFace.objects.of(company).filter(elevation__in=found).values_list("elevation", "on"))
    return {pk: last for pk, last in found.items() if pk not in covered or covered[pk] < last}


def _limits(company: Company, faces: Sequence[Elevation], today: date) -> dict[int, Limit]:
    """Return the exposure limit of each elevation that has any membrane."""
    openings = live_openings(company).filter(elevation__in=faces).values_list("pk", flat=True)
    used: dict[tuple[str, str], set[str]] = {}
    for each in openings_demand(company, openings, today):
        keys = used.setdefault((each.house, each.elevation), set())
        keys.update(need.material.key for need in each.needs)
    sheets = sheets_in_force(company, today)
    found: Mapping[int, Iterable[str]] = {
        face.pk: sorted(used.get((face.house.code, face.name), ())) for face in faces
    }
    limits = {pk: exposure_limit(keys, sheets) for pk, keys in found.items()}
    return {pk: limit for pk, limit in limits.items() if limit is not None}


def _order(face: OpenFace) -> tuple[date, str, int, int]:
    row = face.elevation
    return face.cover_by, row.house.code, row.walking_order, row.pk
