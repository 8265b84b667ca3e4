"""When in a day the weather lets a step go on, and in words why not. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from enum import StrEnum
from itertools import pairwise

from crews.cure.air import dew_point_c
from crews.cure.forecast import Forecast, Hour, Span
from crews.cure.sheet import Sheet, Stated, Warmth
from projects.quantities.duration import Duration

DEW_MARGIN_F = Stated(5, "C", "common practice (coatings standards, from memory): 3 °C or 5 °F")
WIND_LIMIT_MPH = Stated(25)
DRYING = Stated(Duration(3600), "E", "estimate: a wall is dry an hour after rain")


class Gate(StrEnum):
    """What the weather must allow: the words that a method's steps use."""

    DAYLIGHT = "daylight"
    RAIN = "rain"
    DRY = "dry"
    DEW_POINT = "dew point"
    TEMPERATURE = "temperature"
    WIND = "wind"


@dataclass(frozen=True, slots=True)
class Daylight:
    """Clock times between which it is light enough to work outside."""

    first: time
    last: time


@dataclass(frozen=True, slots=True)
class WorkLimits:
    """What a company works in: margin above dew point (°F), wind for large units, drying, light, cover.

    `covered` says that the elevation is under a roof or tarpaulin, so that rain doesn't reach the work.
    """

    dew_margin_f: Stated[int] = DEW_MARGIN_F
    wind_mph: Stated[int] = WIND_LIMIT_MPH
    drying: Stated[Duration] = DRYING
    daylight: Daylight | None = None
    covered: bool = False


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a step asks of the weather: its gates, the sheets of what it applies, a large unit or not."""

    gates: frozenset[Gate]
    sheets: tuple[Sheet, ...] = ()
    is_large: bool = False


@dataclass(frozen=True, slots=True)
class GateSpan:
    """A span in which the work may go on (`reasons` empty) or may not, with every reason."""

    start: datetime
    end: datetime
    reasons: tuple[str, ...]

    @property
    def is_open(self) -> bool:
        """Return whether work may go on."""
        return not self.reasons


def gate_spans(conditions: Conditions, *, forecast: Forecast, limits: WorkLimits) -> tuple[GateSpan, ...]:
    """Return the forecast's time in order, cut where the answer for `conditions` changes.

    Neighbouring spans differ; the spans have no gaps. The surface is taken to be as warm as the air.
    """
    found: list[GateSpan] = []
    for span, is_wet in _cut(forecast, limits):
        reasons = tuple(_reasons(conditions, span=span, is_wet=is_wet, limits=limits))
        if found and found[-1].reasons == reasons:
            found[-1] = GateSpan(found[-1].start, span.end, reasons)
        else:
            found.append(GateSpan(span.start, span.end, reasons))
    return tuple(found)


def is_warm_enough(hour: Hour, warmth: Warmth) -> bool:
    """Return whether the air lies within a material's limits, both included."""
    return warmth.coldest.value.in_celsius <= hour.air.temp_c <= warmth.hottest.value.in_celsius


def above_dew_point_f(hour: Hour) -> float:
    """Return how many °F a surface as warm as the air lies above the dew point, infinite in dry air."""
    dew = dew_point_c(hour.air)
    return math.inf if dew is None else (hour.air.temp_c - dew) * 9 / 5


def _reasons(conditions: Conditions, *, span: Span, is_wet: bool, limits: WorkLimits) -> Iterator[str]:
    gates, hour = conditions.gates, span.hour
    if Gate.TEMPERATURE in gates:
        for sheet in conditions.sheets:
            yield from _temperature(hour, sheet)
    if Gate.DEW_POINT in gates and (above := above_dew_point_f(hour)) < limits.dew_margin_f.value:
        yield (
            f"Surface {above:.1f} °F above the dew point; below {limits.dew_margin_f.value} °F it may be wet."
        )
    if gates & {Gate.RAIN, Gate.DRY} and hour.rain and not limits.covered:
        yield "Rain, and the work is not covered."
    if Gate.DRY in gates and is_wet and not limits.covered:
        yield "The wall is still wet from rain."
    if Gate.WIND in gates and conditions.is_large and hour.wind_mph > limits.wind_mph.value:
        yield f"Wind {hour.wind_mph:g} mph, above {limits.wind_mph.value} mph for large units."
    if Gate.DAYLIGHT in gates and not _is_light(span.start, limits.daylight):
        yield "Too dark to work."


def _temperature(hour: Hour, sheet: Sheet) -> Iterator[str]:
    if not is_warm_enough(hour, sheet.warmth):
        coldest, hottest = sheet.warmth.coldest.value, sheet.warmth.hottest.value
        yield (
            f"{hour.air.temp_c * 9 / 5 + 32:.0f} °F is outside the {sheet.name}'s "
            f"{coldest.in_fahrenheit:.0f} to {hottest.in_fahrenheit:.0f} °F."
        )


def _is_light(moment: datetime, daylight: Daylight | None) -> bool:
    return daylight is None or daylight.first <= moment.time() < daylight.last


def _cut(forecast: Forecast, limits: WorkLimits) -> Iterator[tuple[Span, bool]]:
    """Yield the forecast's spans with whether rain has just stopped, cut at first and last light and where
    the wall has dried."""
    dry_from = forecast.start
    for span in forecast.spans():
        cuts = _light_changes(span, limits.daylight)
        if span.start < dry_from < span.end:
            cuts.append(dry_from)
        for start, end in pairwise(sorted({span.start, *cuts, span.end})):
            yield Span(start, end, span.hour), not span.hour.rain and start < dry_from
        if span.hour.rain:
            dry_from = span.end + timedelta(seconds=limits.drying.value.seconds)


def _light_changes(span: Span, daylight: Daylight | None) -> list[datetime]:
    if daylight is None:
        return []
    days = (span.end.date() - span.start.date()).days + 1
    moments = (
        datetime.combine(span.start.date() + timedelta(days=day), clock)
        for day in range(days)
        for clock in (daylight.first, daylight.last)
    )
    return [moment for moment in moments if span.start < moment < span.end]
