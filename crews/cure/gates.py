"""When in a day the weather lets a kind of work go on, and in words why not. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from enum import StrEnum
from itertools import pairwise

from crews.cure.air import dew_point_c
from crews.cure.forecast import Forecast, Hour, Span
from crews.cure.sheet import ASPHALTIC, DEMO_SEALANT, MembraneSheet, SealantSheet, Stated
from projects.quantities.duration import Temperature

DEW_MARGIN_F = Stated(5, "C", "common practice (coatings standards, from memory): 3 °C or 5 °F")
WIND_LIMIT_MPH = Stated(25)


class Work(StrEnum):
    """What a step does, as far as the weather cares."""

    SEALANT = "sealant"
    MEMBRANE = "membrane"
    LARGE_UNIT = "large unit"
    OUTSIDE = "outside"
    INSIDE = "inside"


@dataclass(frozen=True, slots=True)
class Daylight:
    """Clock times between which it is light enough to work outside."""

    first: time
    last: time


@dataclass(frozen=True, slots=True)
class WorkLimits:
    """What a company works in: sheets, margin above dew point (°F), wind for large units, light, cover.

    `covered` says that the elevation is under a roof or tarpaulin, so that rain doesn't stop the work.
    """

    sealant: SealantSheet = DEMO_SEALANT
    membrane: MembraneSheet = ASPHALTIC
    dew_margin_f: Stated[int] = DEW_MARGIN_F
    wind_mph: Stated[int] = WIND_LIMIT_MPH
    daylight: Daylight | None = None
    covered: bool = False


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


def gate_spans(works: Iterable[Work], *, forecast: Forecast, limits: WorkLimits) -> tuple[GateSpan, ...]:
    """Return the forecast's time in order, cut where the answer for `works` together changes.

    Neighbouring spans differ; the spans have no gaps. The surface is taken to be as warm as the air.
    """
    wanted = frozenset(works)
    found: list[GateSpan] = []
    for span in _cut_by_light(forecast, limits.daylight):
        reasons = _reasons(wanted, span=span, limits=limits)
        if found and found[-1].reasons == reasons:
            found[-1] = GateSpan(found[-1].start, span.end, reasons)
        else:
            found.append(GateSpan(span.start, span.end, reasons))
    return tuple(found)


def is_warm_enough(hour: Hour, *, coldest: Temperature, hottest: Temperature) -> bool:
    """Return whether the air lies within a material's limits, both included."""
    return coldest.in_celsius <= hour.air.temp_c <= hottest.in_celsius


def above_dew_point_f(hour: Hour) -> float:
    """Return how many °F a surface as warm as the air lies above the dew point, infinite in dry air."""
    dew = dew_point_c(hour.air)
    return math.inf if dew is None else (hour.air.temp_c - dew) * 9 / 5


def _reasons(works: frozenset[Work], *, span: Span, limits: WorkLimits) -> tuple[str, ...]:
    if works <= {Work.INSIDE}:
        return ()
    hour = span.hour
    reasons = []
    for sheet in _sheets_used(works, limits):
        reasons += _temperature(hour, sheet)
    if works & {Work.SEALANT, Work.MEMBRANE}:
        reasons += _dew(hour, margin_f=limits.dew_margin_f.value)
    if hour.rain and not limits.covered:
        reasons.append("Rain, and the work is not covered.")
    if Work.LARGE_UNIT in works and hour.wind_mph > limits.wind_mph.value:
        reasons.append(
            f"Wind {hour.wind_mph:g} mph, above {limits.wind_mph.value} mph for setting large units."
        )
    if not _is_light(span.start, limits.daylight):
        reasons.append("Too dark to work outside.")
    return tuple(reasons)


def _sheets_used(works: frozenset[Work], limits: WorkLimits) -> Iterable[SealantSheet | MembraneSheet]:
    if Work.SEALANT in works:
        yield limits.sealant
    if Work.MEMBRANE in works:
        yield limits.membrane


def _temperature(hour: Hour, sheet: SealantSheet | MembraneSheet) -> list[str]:
    coldest, hottest = sheet.coldest.value, sheet.hottest.value
    if is_warm_enough(hour, coldest=coldest, hottest=hottest):
        return []
    return [
        f"{hour.air.temp_c * 9 / 5 + 32:.0f} °F is outside the {sheet.name}'s "
        f"{coldest.in_fahrenheit:.0f} to {hottest.in_fahrenheit:.0f} °F."
    ]


def _dew(hour: Hour, *, margin_f: int) -> list[str]:
    above = above_dew_point_f(hour)
    if above >= margin_f:
        return []
    return [f"Surface {above:.1f} °F above the dew point; below {margin_f} °F it may be wet."]


def _is_light(moment: datetime, daylight: Daylight | None) -> bool:
    return daylight is None or daylight.first <= moment.time() < daylight.last


def _cut_by_light(forecast: Forecast, daylight: Daylight | None) -> Iterable[Span]:
    """Yield the forecast's spans, cut at the first and last light of each day they touch."""
    for span in forecast.spans():
        cuts = _light_changes(span, daylight)
        edges = [span.start, *cuts, span.end]
        for start, end in pairwise(edges):
            yield Span(start, end, span.hour)


def _light_changes(span: Span, daylight: Daylight | None) -> list[datetime]:
    if daylight is None:
        return []
    days = (span.end.date() - span.start.date()).days + 1
    moments = (
        datetime.combine(span.start.date() + timedelta(days=day), clock)
        for day in range(days)
        for clock in (daylight.first, daylight.last)
    )
    return sorted(moment for moment in moments if span.start < moment < span.end)
