"""Need dates of a house, and what houses lack."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count, Q

from materials.models import NeedDate
from materials.selectors.pages import FaceShown
from projects.models import UNPLACED, Company, Elevation, House
from projects.selectors import version_of

SHOWN = 30
SET_NEED_DATE = "set need date"


@dataclass(frozen=True, slots=True)
class Unfinished:
    """A house and what it lacks, in words."""

    house: House
    lacks: tuple[str, ...]


def faces_with_days(house: House) -> Sequence[FaceShown]:
    """Return the house's placed elevations with their need dates, in walking order."""
    rows = Elevation.objects.of(house.company).filter(house=house).exclude(name=UNPLACED)
    live = Count("openings", filter=Q(openings__removed_at__isnull=True))
    days = {
        row.elevation_id: row for row in NeedDate.objects.of(house.company).filter(elevation__house=house)
    }
    return [
        FaceShown(
            face,
            days[face.pk].date if face.pk in days else None,
            days[face.pk].basis if face.pk in days else "",
            face.live,
        )
        for face in rows.annotate(live=live).order_by("walking_order", "id")
    ]


def days_version(company: Company, faces: Sequence[FaceShown]) -> int:
    """Return the version of the elevations' need dates together."""
    return version_of(company, [face.elevation for face in faces], SET_NEED_DATE)


def unfinished_houses(company: Company) -> Sequence[Unfinished]:
    """Return houses without openings, with openings on no face, or with faces without a day."""
    live = Q(openings__removed_at__isnull=True)
    rows = (
        House.objects.of(company)
        .filter(archived=False, project__archived=False)
        .select_related("project")
        .annotate(
            live=Count("openings", filter=live, distinct=True),
            unplaced=Count("openings", filter=live & Q(openings__elevation__name=UNPLACED), distinct=True),
            undated=Count(
                "elevations",
                filter=Q(elevations__need_date__isnull=True) & ~Q(elevations__name=UNPLACED),
                distinct=True,
            ),
        )
        .order_by("code", "id")
    )
    found = [Unfinished(house, tuple(_lacks(house.live, house.unplaced, house.undated))) for house in rows]
    return [each for each in found if each.lacks][:SHOWN]


def _lacks(live: int, unplaced: int, undated: int) -> list[str]:
    if not live:
        return ["its window schedule"]
    lacks = []
    if unplaced:
        lacks.append(f"the elevation of {unplaced} opening{'s' if unplaced > 1 else ''}")
    if undated:
        lacks.append(f"the day of {undated} elevation{'s' if undated > 1 else ''}")
    return lacks
