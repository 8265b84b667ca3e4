"""What an opening costs this month, what moved it since last month, and which houses need a look."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from crews.convert.words import day_told
from crews.costing.cost import CostPart, Group, OpeningCost
from crews.models import Assignment, DayPlan
from crews.selectors.costs import CostedHouse, CostedOpening, cost_houses, mean, means_by_method
from crews.selectors.readiness import marks_without_window, missing_of
from materials.selectors.orders import local_today
from projects.models import Company, House
from projects.quantities.money import Money
from projects.selectors import live_houses

ONE_DAY = timedelta(days=1)
DEAR = Fraction(125, 100)  # E: a house this much above the others wants a look
LOOK_AHEAD = timedelta(days=14)
MOST_HOUSES = 60


@dataclass(frozen=True, slots=True)
class MonthCost:
    """The openings that crews are sent to in a month, and their means to the cent."""

    first: date
    openings: int
    total: Money
    groups: tuple[tuple[Group, Money], ...]


@dataclass(frozen=True, slots=True)
class Moved:
    """How far one group of the cost moved per opening since the month before."""

    group: Group
    now: Money
    before: Money

    @property
    def by(self) -> Money:
        """Return now less before."""
        return self.now - self.before


@dataclass(frozen=True, slots=True)
class MonthPage:
    """This month's cost per opening; `before` and `moved` only where crews worked last month."""

    now: MonthCost | None
    before: MonthCost | None
    moved: tuple[Moved, ...]
    by_prices: Money | None
    by_method: tuple[tuple[str, int, Money], ...]
    dearest: tuple[tuple[CostedHouse, CostedOpening], ...]
    has_wages: bool

    @property
    def moved_most(self) -> Moved | None:
        """Return the group that moved the most, None where nothing did."""
        changed = [each for each in self.moved if each.by.cents]
        return max(changed, key=lambda each: abs(each.by.cents), default=None)


@dataclass(frozen=True, slots=True)
class Look:
    """One house with the reasons to look at it, and where each is looked at."""

    house: House
    reasons: tuple[str, ...]


def month_page(company: Company) -> MonthPage:
    """Return this month's cost per opening beside last month's."""
    today = local_today(company)
    first = today.replace(day=1)
    last_month = (first - ONE_DAY).replace(day=1)
    worked = _worked(company, last_month, _next_month(first))
    houses = _houses(worked)
    costed = cost_houses(company, houses) if houses else []
    here = [
        (house, opening)
        for house in costed
        for opening in house.openings
        if _in(worked, opening.elevation, first)
    ]
    there = [
        (house, opening)
        for house in costed
        for opening in house.openings
        if _in(worked, opening.elevation, last_month) and not _in(worked, opening.elevation, first)
    ]
    now, before = _month(first, here), _month(last_month, there)
    return MonthPage(
        now=now,
        before=before,
        moved=_moved(now, before),
        by_prices=_by_prices(company, houses, now, worked) if now else None,
        by_method=means_by_method(_only(here)),
        dearest=tuple(sorted(here, key=lambda pair: -pair[1].cost.total.cents)[:5]),
        has_wages=not costed or any(house.cost for house in costed),
    )


def houses_to_look_at(company: Company) -> list[Look]:
    """Return the houses with a reason to look, by code: not priced, refused, dear, not ready, left over."""
    houses = list(live_houses(company).select_related("company", "project__company")[:MOST_HOUSES])
    costed = cost_houses(company, houses) if houses else []
    average = mean([each.cost.total for house in costed for each in house.openings])
    late = _not_ready(company)
    left = _left_over(company)
    looks = []
    for house in costed:
        reasons = [*house.notices, *_dear(house, average), *late.get(house.house.pk, ())]
        reasons += left.get(house.house.code, ())
        if reasons:
            looks.append(Look(house.house, tuple(dict.fromkeys(reasons))))
    return looks


def _worked(company: Company, first: date, until: date) -> list[Assignment]:
    rows = Assignment.objects.of(company).filter(date__gte=first, date__lt=until)
    return list(rows.select_related("elevation__house__project__company", "elevation__house__company"))


def _houses(worked: Iterable[Assignment]) -> list[House]:
    return list({row.elevation.house_id: row.elevation.house for row in worked}.values())


def _in(worked: Sequence[Assignment], elevation: int, first: date) -> bool:
    until = _next_month(first)
    return any(row.elevation_id == elevation and first <= row.date < until for row in worked)


def _next_month(first: date) -> date:
    return (first + timedelta(days=31)).replace(day=1)


def _month(first: date, found: Sequence[tuple[CostedHouse, CostedOpening]]) -> MonthCost | None:
    costs = [opening.cost for _, opening in found]
    total = mean([cost.total for cost in costs])
    if total is None:
        return None
    groups = tuple((group, _mean_of(group, costs)) for group in Group)
    return MonthCost(first, len(costs), total, groups)


def _mean_of(group: Group, costs: Sequence[OpeningCost]) -> Money:
    return mean([cost.of(group) for cost in costs]) or Money(0, costs[0].currency)


def _moved(now: MonthCost | None, before: MonthCost | None) -> tuple[Moved, ...]:
    if now is None or before is None:
        return ()
    earlier = dict(before.groups)
    return tuple(Moved(group, amount, earlier[group]) for group, amount in now.groups)


def _by_prices(
    company: Company, houses: Sequence[House], now: MonthCost, worked: Sequence[Assignment]
) -> Money | None:
    """Return how far this month's own openings moved by suppliers' prices alone since last month's end."""
    earlier = cost_houses(company, houses, priced_on=now.first - ONE_DAY)
    costs = [
        opening.cost
        for house in earlier
        for opening in house.openings
        if _in(worked, opening.elevation, now.first)
    ]
    if not costs or any(house.notices for house in earlier):
        return None
    return dict(now.groups)[Group.MATERIAL] - _mean_of(Group.MATERIAL, costs)


def _only(found: Sequence[tuple[CostedHouse, CostedOpening]]) -> list[CostedHouse]:
    """Return the houses with just the openings that were found."""
    kept: dict[int, tuple[CostedHouse, list[CostedOpening]]] = {}
    for house, opening in found:
        kept.setdefault(house.house.pk, (house, []))[1].append(opening)
    return [
        CostedHouse(
            house.house,
            tuple(openings),
            house.cost,
            house.in_force,
            house.priced_on,
            house.notices,
            house.problems,
        )
        for house, openings in kept.values()
    ]


def _dear(house: CostedHouse, average: Money | None) -> list[str]:
    if average is None or house.per_opening is None or house.per_opening.cents <= average.cents * DEAR:
        return []
    above = (house.per_opening.cents * 100 + average.cents // 2) // average.cents - 100
    largest = _largest([part for each in house.openings for part in each.cost.parts])
    return [f"An opening here costs {above} % more than the mean; most of it is {largest}."]


def _largest(parts: Sequence[CostPart]) -> str:
    sums: dict[str, int] = {}
    for part in parts:
        sums[part.name] = sums.get(part.name, 0) + part.amount.cents
    return max(sums, key=lambda name: sums[name])


def _not_ready(company: Company) -> dict[int, list[str]]:
    """Return by house what its elevations lack to which a crew is sent soon."""
    today = local_today(company)
    soon = Assignment.objects.of(company).filter(date__gte=today, date__lte=today + LOOK_AHEAD)
    found: dict[int, list[str]] = {}
    rows = list(soon.select_related("elevation", "crew"))
    no_window = marks_without_window(company, [row.elevation for row in rows])
    for row in rows:
        missing = missing_of(row.elevation, (), no_window[row.elevation_id])
        if missing:
            told = f"{row.crew.code} goes to {row.elevation.name} on {day_told(row.date)}, but {missing[0]}."
            found.setdefault(row.elevation.house_id, []).append(told)
    return found


def _left_over(company: Company) -> dict[str, list[str]]:
    """Return by house what the newest sheets of the coming days leave over."""
    today = local_today(company)
    newest: dict[tuple[int, date], DayPlan] = {}
    for plan in DayPlan.objects.of(company).filter(date__gte=today).select_related("crew").order_by("pk"):
        newest[plan.crew_id, plan.date] = plan
    found: dict[str, dict[str, int]] = {}
    for plan in newest.values():
        for each in plan.plan["left_over"]:
            day = f"{plan.crew.code} leaves {{}} over on {day_told(plan.date)}."
            counts = found.setdefault(each["house"], {})
            counts[day] = counts.get(day, 0) + 1
    return {
        house: [day.format(f"{count} opening{'' if count == 1 else 's'}") for day, count in counts.items()]
        for house, counts in found.items()
    }
