"""What a crew probably used on its day: what its finished openings need, less what is told already."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date

from crews.convert.kept import sheet_of_plan
from crews.models import Assignment, Crew
from crews.selectors.days import latest_plan
from crews.selectors.work import WorkOfDay, work_of_day
from materials.models import Movement
from materials.selectors.demand import by_material, openings_demand
from materials.selectors.houses import Kind, ToUse, to_use, used_pieces
from projects.models import Company, House
from projects.selectors import row_of


@dataclass(frozen=True, slots=True)
class HouseUse:
    """One house of the day: what is within reach there, and how many openings are finished."""

    house: House
    finished: int
    lines: tuple[ToUse, ...]
    is_written: bool


@dataclass(frozen=True, slots=True)
class UsePage:
    """A crew's day with its houses."""

    crew: Crew
    day: date
    houses: tuple[HouseUse, ...]


def key_of_day(crew: Crew, day: date, house: House) -> str:
    """Return how the keys of all that the crew used at the house on the day begin."""
    return f"used-{crew.pk}-{day:%Y%m%d}-{house.pk}-"


def use_page(company: Company, pk: int, day: date) -> UsePage:
    """Return what the crew could have used on the day, house by house. Raises NotThere."""
    crew = row_of(Crew, company, pk)
    sent = Assignment.objects.of(company).filter(crew=crew, date=day).order_by("position")
    houses = {row.elevation.house_id: row.elevation.house for row in sent.select_related("elevation__house")}
    plan = latest_plan(company, crew, day)
    work = work_of_day(company, sheet_of_plan(plan) if plan else None)
    return UsePage(crew, day, tuple(_of_house(crew, day, work, house) for house in houses.values()))


def _of_house(crew: Crew, day: date, work: WorkOfDay, house: House) -> HouseUse:
    # an opening that is only covered for the night is finished on another day's sheet
    finished = [
        each.visit.opening
        for each in work.visits
        if each.is_done and not each.visit.is_covered and each.visit.house == house.code
    ]
    needed = {
        each.material: each.quantity
        for each in by_material(openings_demand(crew.company, finished, day))
        if not each.pieces
    }
    own = Movement.objects.of(crew.company).filter(key__startswith=key_of_day(crew, day, house))
    used: Counter[Kind] = used_pieces(list(own.select_related("lot")))
    lines = to_use(crew.company, house, truck=crew.code, needed=needed, used=used)
    return HouseUse(house, len(finished), lines, is_written=bool(used))
