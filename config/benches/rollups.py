"""How long 100,000 openings take to be read, computed and rolled up, new and unchanged."""

from __future__ import annotations

from collections.abc import Iterator

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from config.benches.office import founded, project
from config.benches.windows import houses
from materials.selectors.rollups import roll_ups_of
from materials.services.rollups import keep_roll_ups
from openings.convert import geometry_of_columns
from openings.takeoff.reckoner import reckoner_for
from projects.models import Company
from projects.selectors import live_houses

SEED = 2
PER_HOUSE, SIZES = 40, 16
PLANS_EACH = 5
TRIES = 7


def measure(*, small: bool) -> Iterator[Figure]:
    """Roll up ten projects of 250 houses; each project repeats five plans of its own. Best of several.

    Never seen: nothing is kept, and this process has seen none of the sizes. Seen before: nothing is kept.
    Unchanged: read from what the clock keeps.
    """
    projects, each = (1, 6) if small else (10, 250)
    by = founded()
    plans = houses(projects * PLANS_EACH, openings=PER_HOUSE, sizes=SIZES, seed=SEED)
    for number in range(projects):
        project(by, plans=[next(plans) for _ in range(PLANS_EACH)], houses=each, code=f"P{number}")
    told = f"roll-up of {projects * each * PER_HOUSE:,} openings"
    new = [_new(by.company) for _ in range(TRIES)]
    yield Figure.of_time(f"{told}, never seen", Spent.least(new), 1)
    again = [spent(roll_up, by.company) for _ in range(TRIES)]
    yield Figure.of_time(f"{told}, seen before", Spent.least(again), 1)
    keep_roll_ups(company=by.company)
    unchanged = [spent(roll_up, by.company) for _ in range(TRIES)]
    yield Figure.of_time(f"{told}, unchanged", Spent.least(unchanged), 0.3)


def roll_up(company: Company) -> None:
    """Read the company's houses and what each comes to."""
    found = list(live_houses(company))
    if len(roll_ups_of(company, found).totals) != len(found):
        raise ValueError("a house was left out")


def _new(company: Company) -> Spent:
    reckoner_for.cache_clear()
    geometry_of_columns.cache_clear()
    return spent(roll_up, company)
