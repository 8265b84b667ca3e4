"""A method's waits and limits in minutes for one day's weather, safe whenever in the day they begin. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from crews.cure.forecast import Forecast
from crews.cure.gates import WorkLimits
from crews.cure.sheet import DEMO_SHEETS, Sheet
from crews.cure.waits import SheetValue, Wait, Weather, at_least, at_most
from crews.dayplan.crew_day.day import MIDNIGHT, ClockSpan
from openings.methods.steps import Bound
from projects.errors import BadValue
from projects.quantities.duration import Duration

MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class DayWeather:
    """One day's forecast (None: nobody has typed one), the sheets by material, the company's limits.

    `worked` is the span of the day in which beads are run.
    """

    day: date
    worked: ClockSpan
    forecast: Forecast | None = None
    sheets: Mapping[str, Sheet] = field(default_factory=lambda: DEMO_SHEETS)
    limits: WorkLimits = field(default_factory=WorkLimits)

    def part_of_day(self, start: datetime, end: datetime) -> ClockSpan | None:
        """Return the day's minutes between two moments, outward to whole ones; None where there are none."""
        first = max(0, (start - self._midnight) // MINUTE)
        last = min(MIDNIGHT, -((self._midnight - end) // MINUTE))
        return ClockSpan(first, last) if first < last else None

    def starts(self) -> tuple[tuple[ClockSpan, Weather], ...]:
        """Return the weathers in which a bead may be run: from the first worked minute, then row by row.

        Each with the span of the day in which it holds; before the forecast begins there is none.
        """
        first, last = self._moment(self.worked.start), self._moment(self.worked.end)
        if self.forecast is None:
            return ((self.worked, Weather(None, first)),)
        moments = [hour.start for hour in self.forecast.hours if first < hour.start < last]
        known = self.forecast.start <= first < self.forecast.end
        weathers = [Weather(self.forecast if known else None, first)]
        weathers += [Weather(self.forecast, moment) for moment in moments]
        minutes = [(each.start - self._midnight) // MINUTE for each in weathers]
        ends = [*minutes[1:], self.worked.end]
        spans = [ClockSpan(start, end) for start, end in zip(minutes, ends, strict=True)]
        return tuple(zip(spans, weathers, strict=True))

    @property
    def _midnight(self) -> datetime:
        return datetime.combine(self.day, time())

    def _moment(self, minute: int) -> datetime:
        return self._midnight + minute * MINUTE


def longest_wait(bound: Bound, weather: DayWeather) -> Wait | None:
    """Return a minimum that holds whenever in the day it begins; None where no sheet states it.

    Raises BadValue where the material has no sheet.
    """
    found = _each_start(bound, weather, read=at_least)
    if not found and bound.otherwise is not None:
        return longest_wait(bound.otherwise, weather)
    return max((wait for _, wait in found), key=lambda wait: wait.duration, default=None)


def limits(bound: Bound, weather: DayWeather) -> tuple[tuple[ClockSpan, Wait], ...]:
    """Return a maximum for each span of the day in which it may begin; empty where no sheet states it.

    Raises BadValue where the material has no sheet.
    """
    found = _each_start(bound, weather, read=at_most)
    if not found and bound.otherwise is not None:
        return limits(bound.otherwise, weather)
    return found


def minutes_up(duration: Duration) -> int:
    """Return a minimum in minutes: never shorter than it is."""
    return duration.whole_minutes


def minutes_down(duration: Duration) -> int:
    """Return a maximum in minutes: never longer than it is."""
    return duration.seconds // 60


def _each_start(
    bound: Bound, weather: DayWeather, *, read: Callable[..., Wait | None]
) -> tuple[tuple[ClockSpan, Wait], ...]:
    if bound.minutes is not None:
        return ((weather.worked, Wait(bound.minutes, "")),)
    sheet = weather.sheets.get(bound.material or "")
    if sheet is None or bound.sheet is None:
        raise BadValue(
            problem=f"There is no sheet for {bound.material}.",
            remedy=f"Enter the times that {bound.material}'s sheet states.",
            value=bound.material,
        )
    value = SheetValue(bound.sheet)
    found = ((span, read(value, sheet, weather=start, depth=bound.depth)) for span, start in weather.starts())
    return tuple((span, wait) for span, wait in found if wait is not None)
