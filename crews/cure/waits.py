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

from crews.cure.air import Air, cure_speed
from crews.cure.depth import REFERENCE_HOURS, hours_to_exposure
from crews.cure.forecast import Forecast
from crews.cure.sheet import PrimerSheet, SealantSheet
from projects.quantities.duration import Duration
from projects.quantities.length import Length

TOOLED_THICKNESS = Length(3_200_000)
DAY_SECONDS = REFERENCE_HOURS * 3600
# A wait that no weather of the forecast ends: a year, which no day's plan can hold.
NEVER = Duration(366 * DAY_SECONDS)


@dataclass(frozen=True, slots=True)
class Weather:
    """A bead's weather: the forecast, None where there is none, and when the bead is run."""

    forecast: Forecast | None
    start: datetime


@dataclass(frozen=True, slots=True)
class Wait:
    """A wait or a limit, whole seconds, with the reason in words."""

    duration: Duration
    why: str


def skin_over_limit(sheet: SealantSheet, weather: Weather) -> Wait:
    """Return how long a bead stays open: the sheet's skin-over time or less."""
    return _at_most("Skin-over", sheet.skin_over.value, weather)


def tooling_limit(sheet: SealantSheet, weather: Weather) -> Wait:
    """Return how long a bead may still be tooled: the sheet's tooling time or less."""
    return _at_most("Tooling time", sheet.tooling_time.value, weather)


def tack_free_wait(sheet: SealantSheet, weather: Weather) -> Wait:
    """Return how long nothing may touch a tooled bead: the sheet's tack-free time or more."""
    return _at_least("Tack-free", sheet.tack_free.value, weather)


def thickness_wait(sheet: SealantSheet, weather: Weather, *, thickness: Length = TOOLED_THICKNESS) -> Wait:
    """Return how long a bead of `thickness`, open on one face, cures: by the sheet, or more."""
    return _at_least(f"Cured {thickness.in_mm:.3g} mm deep", _time_to(thickness, sheet), weather)


def water_test_wait(sheet: SealantSheet, weather: Weather) -> Wait:
    """Return how long a bead cures before water is turned on it.

    The maker's full cure, else twice the tooled thickness. Source: field guide 9, C.
    """
    if sheet.full_cure is not None:
        return _at_least("Full cure", sheet.full_cure.value, weather)
    return thickness_wait(sheet, weather, thickness=2 * TOOLED_THICKNESS)


def full_cure_wait(sheet: SealantSheet, weather: Weather) -> Wait | None:
    """Return how long the maker's full cure takes; None where the sheet doesn't say."""
    return None if sheet.full_cure is None else _at_least("Full cure", sheet.full_cure.value, weather)


def flash_off_wait(sheet: PrimerSheet) -> Wait:
    """Return how long primer dries before the membrane goes on."""
    return _by_sheet("Primer's flash-off", sheet.flash_off.value)


def primer_open_limit(sheet: PrimerSheet) -> Wait:
    """Return how long primer stays open for the membrane."""
    return _by_sheet("Primer stays open", sheet.open_time.value)


def shortest(limit: Callable[[Weather], Wait], weathers: Iterable[Weather]) -> Wait:
    """Return the smallest of a limit over possible starts: safe whenever in the day the bead is run."""
    return min((limit(weather) for weather in weathers), key=lambda found: found.duration)


def longest(wait: Callable[[Weather], Wait], weathers: Iterable[Weather]) -> Wait:
    """Return the largest of a wait over possible starts: safe whenever in the day the bead is run."""
    return max((wait(weather) for weather in weathers), key=lambda found: found.duration)


def _at_most(what: str, sheet_time: Duration, weather: Weather) -> Wait:
    forecast = weather.forecast
    law = _law_seconds(sheet_time, weather)
    if forecast is None or law >= sheet_time.seconds:
        return _by_sheet(what, sheet_time)
    shorter = Duration(math.floor(law))
    return _by_weather(what, sheet_time, law=shorter, air=forecast.at(weather.start).air)


def _at_least(what: str, sheet_time: Duration, weather: Weather) -> Wait:
    forecast = weather.forecast
    law = _law_seconds(sheet_time, weather)
    if forecast is None or law <= sheet_time.seconds:
        return _by_sheet(what, sheet_time)
    longer = NEVER if math.isinf(law) else min(NEVER, Duration(math.ceil(law)))
    return _by_weather(what, sheet_time, law=longer, air=forecast.at(weather.start).air)


def _law_seconds(sheet_time: Duration, weather: Weather) -> float:
    """Return the seconds in this weather that do as much as the sheet's time, infinite in dry air."""
    forecast, start = weather.forecast, weather.start
    if forecast is None:
        return sheet_time.seconds
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
    return Wait(sheet_time, f"{what} {in_words(sheet_time)}, by the sheet.")


def _by_weather(what: str, sheet_time: Duration, *, law: Duration, air: Air) -> Wait:
    return Wait(
        law,
        f"{what} {in_words(law)} at {air.temp_c * 9 / 5 + 32:.0f} °F and {air.rh:.0f} %; "
        f"{in_words(sheet_time)} by the sheet.",
    )


def in_words(duration: Duration) -> str:
    """Return a duration as people say it, rounded up to the minute: `35 min`, `1 h 20 min`."""
    if duration >= NEVER:
        return "without end"
    if duration.seconds < 3600:
        return f"{duration.whole_minutes} min"
    hours, minutes = divmod(duration.whole_minutes, 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"
