"""What the weather will be, hour by hour, from rows of a file or from four values typed in a day. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from itertools import pairwise

from crews.cure.air import Air
from projects.errors import BadValue

HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Hour:
    """Weather that holds from `start` (local time) until the next row; wind in miles an hour."""

    start: datetime
    air: Air
    rain: bool = False
    wind_mph: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a time zone, and a wind that can't blow."""
        if self.start.tzinfo is not None:
            raise BadValue(
                problem=f"{self.start.isoformat()} names a time zone.",
                remedy="Write the site's local time, such as 2026-03-02T07:00.",
                value=self.start.isoformat(),
            )
        if not (math.isfinite(self.wind_mph) and self.wind_mph >= 0):
            raise BadValue(
                problem=f"A wind of {self.wind_mph} mph can't be.",
                remedy="Give miles an hour, 0 or more.",
                value=self.wind_mph,
            )


@dataclass(frozen=True, slots=True)
class Span:
    """A row with its end: the same weather from `start` up to `end`."""

    start: datetime
    end: datetime
    hour: Hour


@dataclass(frozen=True, slots=True)
class Forecast:
    """Rows in order of time. Each holds until the next, the last as long as the one before it.

    A single row holds for an hour. Raises BadValue where there is no row or time doesn't go forward.
    """

    hours: tuple[Hour, ...]

    def __post_init__(self) -> None:
        """Refuse an empty forecast and one whose times go back."""
        if not self.hours:
            raise BadValue(
                problem="The forecast has no rows.", remedy="Give at least one row of time, temp_c and rh."
            )
        for earlier, later in pairwise(self.hours):
            if later.start <= earlier.start:
                raise BadValue(
                    problem=f"{later.start.isoformat()} does not come after {earlier.start.isoformat()}.",
                    remedy="Sort the rows by time and give each time once.",
                    value=later.start.isoformat(),
                )

    @property
    def start(self) -> datetime:
        """Return the time of the first row."""
        return self.hours[0].start

    @property
    def end(self) -> datetime:
        """Return the time at which the last row stops to hold."""
        last = self.hours[-1].start
        return last + (last - self.hours[-2].start if len(self.hours) > 1 else HOUR)

    def spans(self) -> Iterator[Span]:
        """Yield every row with its end, in order."""
        ends = [hour.start for hour in self.hours[1:]] + [self.end]
        for hour, end in zip(self.hours, ends, strict=True):
            yield Span(hour.start, end, hour)

    def spans_from(self, start: datetime) -> Iterator[Span]:
        """Yield what is left of the rows from `start` on, the first one shortened to begin there.

        Raises BadValue where `start` lies before the first row or after the last one's end.
        """
        self._refuse_outside(start)
        for span in self.spans():
            if span.end > start:
                yield Span(max(span.start, start), span.end, span.hour)

    def at(self, moment: datetime) -> Hour:
        """Return the row that holds at `moment`. Raises BadValue outside the forecast."""
        return next(self.spans_from(moment)).hour

    def _refuse_outside(self, moment: datetime) -> None:
        if self.start <= moment < self.end:
            return
        raise BadValue(
            problem=(
                f"{moment.isoformat()} lies outside the forecast, "
                f"which runs from {self.start.isoformat()} to {self.end.isoformat()}."
            ),
            remedy="Start within the forecast, or give a longer one.",
            value=moment.isoformat(),
        )


class QuarterOfDay(StrEnum):
    """The four parts of a day that a foreman types weather for."""

    NIGHT = "night"
    MORNING = "morning"
    AFTERNOON = "afternoon"
    EVENING = "evening"

    @property
    def first_hour(self) -> int:
        """Return the hour of the day at which the quarter begins: 0, 6, 12 or 18."""
        return 6 * list(QuarterOfDay).index(self)


@dataclass(frozen=True, slots=True)
class Quarter:
    """Weather typed in for six hours of a day."""

    day: date
    quarter: QuarterOfDay
    air: Air
    rain: bool = False
    wind_mph: float = 0.0

    @property
    def start(self) -> datetime:
        """Return the quarter's first moment."""
        return datetime.combine(self.day, time(hour=self.quarter.first_hour))


def spread_quarters(quarters: Iterable[Quarter]) -> Forecast:
    """Return the hourly forecast of `quarters`, in any order; the weather of one holds until the next begins.

    Raises BadValue where a quarter is given twice or there is none.
    """
    in_order: Sequence[Quarter] = sorted(quarters, key=lambda quarter: quarter.start)
    hours: list[Hour] = []
    for index, quarter in enumerate(in_order):
        until = in_order[index + 1].start if index + 1 < len(in_order) else quarter.start + 6 * HOUR
        if until == quarter.start:
            raise BadValue(
                problem=f"The {quarter.quarter} of {quarter.day.isoformat()} is given twice.",
                remedy="Keep one value for each quarter of a day.",
                value=str(quarter.quarter),
            )
        count = (until - quarter.start) // HOUR
        hours += [
            Hour(quarter.start + step * HOUR, quarter.air, quarter.rain, quarter.wind_mph)
            for step in range(count)
        ]
    return Forecast(tuple(hours))
