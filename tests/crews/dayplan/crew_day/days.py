"""A day and openings with round numbers, and openings of the real methods."""

from __future__ import annotations

from datetime import date

from crews.cure.air import Air
from crews.cure.forecast import Forecast, Quarter, QuarterOfDay, spread_quarters
from crews.cure.sheet import DEMO_SHEETS, SealantSheet, Stated
from crews.dayplan.crew_day.day import ClockSpan, CrewDay
from crews.dayplan.crew_day.from_method import OpeningFacts, build_visit
from crews.dayplan.crew_day.plan import CrewPlan
from crews.dayplan.crew_day.visit import Closed, Cover, Visit, VisitHold, VisitLag, VisitStep
from crews.dayplan.crew_day.weather import DayWeather
from crews.dayplan.problem import LagKind
from openings.methods.load import load_method
from projects.quantities.duration import Duration
from projects.quantities.length import Length

MARCH_2 = date(2026, 3, 2)
EIGHT, NOON = 8 * 60, 12 * 60
# The demo's materials, but for a sealant whose times no test has to look up.
SHEETS = {
    **DEMO_SHEETS,
    "sealant": SealantSheet(
        skin_over=Stated(Duration.minutes(20)),
        tooling_time=Stated(Duration.minutes(10)),
        tack_free=Stated(Duration.minutes(60)),
        depth_per_day=Stated(Length.mm(3.2)),
    ),
}
WORKED = ClockSpan(EIGHT, 14 * 60 + 45)


def crew_day(people: int = 2, *, end: int = NOON, breaks: tuple[ClockSpan, ...] = ()) -> CrewDay:
    """From eight on, without set-up and clean-up; five minutes a move."""
    return CrewDay(MARCH_2, people, start=EIGHT, end=end, breaks=breaks, set_up=0, clean_up=0)


def step(code: str, minutes: int, people: int = 1, closed: tuple[Closed, ...] = ()) -> VisitStep:
    return VisitStep(code, code.capitalize(), minutes, people, closed=closed)


def shut(start: int, end: int, reason: str = "Rain.") -> Closed:
    return Closed(ClockSpan(start, end), (reason,))


SKINS = VisitLag("bead", "set", LagKind.START_START, "The bead skins.", maximum=12)
TACK = VisitLag("face", "flap", LagKind.FINISH_START, "The face bead is tack-free.", minimum=60)


def opening(
    mark: str = "W1",
    *,
    prep: tuple[Closed, ...] = (),
    with_flap: bool = False,
    impossible: str = "",
    house: str = "H",
) -> Visit:
    """Prep 20 and bead 4 by one each, set 8 by two within 12 of the bead's start, fasten 5.

    With a flap: face bead 9 after fastening, and 60 min later a flap of 4.
    """
    steps = [step("prep", 20, closed=prep), step("bead", 4), step("set", 8, 2), step("fasten", 5)]
    order = [("prep", "set"), ("bead", "set"), ("set", "fasten")]
    lags = [SKINS]
    if with_flap:
        steps += [step("face", 9), step("flap", 4)]
        order += [("fasten", "face")]
        lags.append(TACK)
    return Visit(
        house,
        "Front",
        mark,
        tuple(steps),
        tuple(order),
        tuple(lags),
        holds=(VisitHold("fasten", False, "Squeeze-out seen", ("squeeze-out",), "foreman"),),
        cover=Cover("Cover for the night", "prep", "set", 6, 1),
        impossible=impossible,
    )


def times(plan: CrewPlan, mark: str = "W1") -> dict[str, tuple[int, int]]:
    """Minutes after eight at which each step of an opening starts and ends."""
    planned = next(each for each in plan.visits if each.visit.mark == mark)
    return {each.code: (each.start - EIGHT, each.end - EIGHT) for each in planned.steps}


def facts(mark: str = "W1", width: int = 36, height: int = 60, **more) -> OpeningFacts:
    return OpeningFacts("Lot 7", "Front", mark, Length.inches(width), Length.inches(height), **more)


def method_visit(code: str, of: OpeningFacts | None = None, *, forecast: Forecast | None = None, **choices):
    method = load_method(code)
    return build_visit(
        of or facts(),
        method=method,
        choices=method.choices(**choices),
        weather=DayWeather(MARCH_2, WORKED, forecast, SHEETS),
    )


def quarters(*rows: tuple[float, float], rain: tuple[bool, ...] = (False,) * 4) -> Forecast:
    """Temperature (C) and humidity (%) of night, morning, afternoon, evening."""
    return spread_quarters(
        Quarter(MARCH_2, quarter, Air(temp_c=temp_c, rh=rh), rain=wet)
        for quarter, (temp_c, rh), wet in zip(QuarterOfDay, rows, rain, strict=True)
    )
