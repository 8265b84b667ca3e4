"""How long a crew must wait, or may take, after a bead or a primer in the weather that is forecast. Pure.

A maximum (skin-over, tooling) is shortened by damp warm air and never goes beyond the sheet; a minimum
(tack-free, cure) is lengthened by cold dry air and never falls below it. Source: field guide 8 and 9.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from crews.cure.air import cure_speed
from crews.cure.depth import REFERENCE_HOURS, hours_to_exposure
from crews.cure.forecast import Forecast
from crews.cure.sheet import MembraneSheet, SealantSheet
from projects.quantities.duration import Duration
from projects.quantities.length import Length

TOOLED_THICKNESS = Length(3_200_000)
DAY_SECONDS = REFERENCE_HOURS * 3600
# A wait that no weather of the forecast ends: a year, which no day's plan can hold.
NEVER = Duration(366 * DAY_SECONDS)


@dataclass(frozen=True, slots=True)
class Wait:
    """A wait or a limit, whole seconds, with the reason in words."""

    duration: Duration
    why: str


def skin_over_limit(sheet: SealantSheet, *, forecast: Forecast | None, start: datetime) -> Wait:
    """Return how long a bead run at `start` stays open: the sheet's skin-over time or less."""
    return _limit("Skin-over", sheet.skin_over.value, forecast=forecast, start=start)


def tooling_limit(sheet: SealantSheet, *, forecast: Forecast | None, start: datetime) -> Wait:
    """Return how long a bead run at `start` may still be tooled: the sheet's tooling time or less."""
    return _limit("Tooling time", sheet.tooling.value, forecast=forecast, start=start)


def tack_free_wait(sheet: SealantSheet, *, forecast: Forecast | None, start: datetime) -> Wait:
    """Return how long nothing may touch a bead tooled at `start`: the sheet's tack-free time or more."""
    return _wait("Tack-free", sheet.tack_free.value, forecast=forecast, start=start)


def thickness_wait(
    sheet: SealantSheet,
    *,
    thickness: Length = TOOLED_THICKNESS,
    forecast: Forecast | None,
    start: datetime,
) -> Wait:
    """Return how long a bead of `thickness`, open on one face, cures: by the sheet, or more."""
    sheet_time = _time_to(thickness, sheet)
    return _wait(f"Cured {thickness.in_mm:g} mm deep", sheet_time, forecast=forecast, start=start)


def water_test_wait(sheet: SealantSheet, *, forecast: Forecast | None, start: datetime) -> Wait:
    """Return how long a bead cures before water is turned on it.

    The maker's full cure, else twice the tooled thickness. Source: field guide 9, C.
    """
    if sheet.full_cure is not None:
        return _wait("Full cure", sheet.full_cure.value, forecast=forecast, start=start)
    return thickness_wait(sheet, thickness=2 * TOOLED_THICKNESS, forecast=forecast, start=start)


def flash_off_wait(sheet: MembraneSheet) -> Wait | None:
    """Return how long primer dries before the membrane goes on; None where the sheet needs no primer."""
    if sheet.flash_off is None:
        return None
    return _by_sheet("Primer's flash-off", sheet.flash_off.value)


def primer_open_limit(sheet: MembraneSheet) -> Wait | None:
    """Return how long primer stays open for the membrane; None where the sheet doesn't say."""
    if sheet.primer_open is None:
        return None
    return Wait(
        sheet.primer_open.value, f"Primer stays open {_words(sheet.primer_open.value)}, by the sheet."
    )


def shortest(limit: Callable[[datetime], Wait], starts: Iterable[datetime]) -> Wait:
    """Return the smallest of a limit over possible `starts`: safe whenever in the day the bead is run."""
    return min((limit(start) for start in starts), key=lambda wait: wait.duration)


def longest(wait: Callable[[datetime], Wait], starts: Iterable[datetime]) -> Wait:
    """Return the largest of a wait over possible `starts`: safe whenever in the day the bead is run."""
    return max((wait(start) for start in starts), key=lambda found: found.duration)


def _limit(what: str, sheet_time: Duration, *, forecast: Forecast | None, start: datetime) -> Wait:
    if forecast is None:
        return _by_sheet(what, sheet_time)
    law = _law_seconds(sheet_time, forecast=forecast, start=start)
    if law >= sheet_time.seconds:
        return _by_sheet(what, sheet_time)
    return _by_weather(what, sheet_time, law=Duration(math.floor(law)), forecast=forecast, start=start)


def _wait(what: str, sheet_time: Duration, *, forecast: Forecast | None, start: datetime) -> Wait:
    if forecast is None:
        return _by_sheet(what, sheet_time)
    law = _law_seconds(sheet_time, forecast=forecast, start=start)
    if law <= sheet_time.seconds:
        return _by_sheet(what, sheet_time)
    longer = NEVER if math.isinf(law) else min(NEVER, Duration(math.ceil(law)))
    return _by_weather(what, sheet_time, law=longer, forecast=forecast, start=start)


def _law_seconds(sheet_time: Duration, *, forecast: Forecast, start: datetime) -> float:
    """Return the seconds in this weather that do as much as the sheet's time, infinite in dry air."""
    hours = hours_to_exposure(sheet_time.in_hours, forecast=forecast, start=start)
    if hours is not None:
        return hours * 3600
    # The forecast's own rows count in full; what is missing runs at the speed of its last row.
    within = (forecast.end - start).total_seconds()
    gained = sum(
        cure_speed(span.hour.air) * (span.end - span.start).total_seconds()
        for span in forecast.spans_from(start)
    )
    speed = cure_speed(forecast.hours[-1].air)
    return within + (sheet_time.seconds - gained) / speed if speed else math.inf


def _time_to(thickness: Length, sheet: SealantSheet) -> Duration:
    """Return the sheet's own time to `thickness`: a day times the square of the depths' ratio, rounded up."""
    ratio = Fraction(thickness.nm, sheet.depth_per_day.value.nm)
    return Duration(math.ceil(DAY_SECONDS * ratio**2))


def _by_sheet(what: str, sheet_time: Duration) -> Wait:
    return Wait(sheet_time, f"{what} {_words(sheet_time)}, by the sheet.")


def _by_weather(
    what: str, sheet_time: Duration, *, law: Duration, forecast: Forecast, start: datetime
) -> Wait:
    air = forecast.at(start).air
    return Wait(
        law,
        f"{what} {_words(law)} at {air.temp_c * 9 / 5 + 32:.0f} °F and {air.rh:.0f} %; "
        f"{_words(sheet_time)} by the sheet.",
    )


def _words(duration: Duration) -> str:
    if duration >= NEVER:
        return "without end"
    if duration.seconds < 3600:
        return f"{duration.whole_minutes} min"
    hours, minutes = divmod(duration.whole_minutes, 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"
