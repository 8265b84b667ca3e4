"""How long a crew's sheet takes from the planned day to the bytes of its PDF."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from config.demo.load import demo_company, load_demo
from crews.documents import sheet_pdf
from crews.models import Crew, DayPlan
from crews.services import plan_day
from projects.actors import CommandLine

MONDAY = date(2026, 6, 8)
TRIES = 5


def measure(*, small: bool) -> Iterator[Figure]:
    """Draw the sheets of the demo's first day; the slowest crew's counts, best of several.

    Cold: the first PDF of a new process, which loads the library and finds its fonts.
    """
    load_demo(MONDAY)
    company = demo_company()
    if company is None:
        raise ValueError("the demo is not there")
    crews = Crew.objects.of(company).order_by("code")[: 1 if small else None]
    plans = [plan_day(by=CommandLine(company), crew=crew, day=MONDAY) for crew in crews]
    yield Figure.of_time("crew sheet, first of a process", spent(sheet_pdf, plans[0]))
    slowest = max((_best(plan) for plan in plans), key=lambda each: each.cpu)
    yield Figure.of_time("crew sheet, warm", slowest, 1.5)


def _best(plan: DayPlan) -> Spent:
    return Spent.least([spent(sheet_pdf, plan) for _ in range(TRIES)])
