"""How long a crew must wait, or may take, after a bead or a primer in the weather that is forecast. Pure.

A maximum (skin-over, tooling) is shortened by damp warm air and never goes beyond the sheet; a minimum
(tack-free, cure) is lengthened by cold dry air and never falls below it. Source: field guide 8 and 9.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from fractions import Fraction

from crews.cure.air import Air, cure_speed
from crews.cure.depth import REFERENCE_HOURS, hours_to_exposure
from crews.cure.forecast import Forecast
from crews.cure.sheet import SealantSheet, Sheet, Stated
from projects.quantities.duration import Duration
from projects.quantities.length import Length

DAY_SECONDS = REFERENCE_HOURS * 3600
# A wait that no weather of the forecast ends: a year, which no day's plan can hold.
NEVER = Duration(366 * DAY_SECONDS)


class SheetValue(StrEnum):
    """The times that a material's sheet may state, by the words that a method's waits use."""

    SKIN_OVER = "skin_over"
    TOOLING_TIME = "tooling_time"
    TACK_FREE = "tack_free"
    CURE_TO_DEPTH = "cure_to_depth"
    FULL_CURE = "full_cure"
    FLASH_OFF = "flash_off"
    OPEN_TIME = "open_time"


WORDS = {
    SheetValue.SKIN_OVER: "Skin-over",
    SheetValue.TOOLING_TIME: "Tooling time",
    SheetValue.TACK_FREE: "Tack-free",
    SheetValue.FULL_CURE: "Full cure",
    SheetValue.FLASH_OFF: "Primer's flash-off",
    SheetValue.OPEN_TIME: "Primer open",
}


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


def at_least(
    value: SheetValue, sheet: Sheet, *, weather: Weather, depth: Length | None = None
) -> Wait | None:
    """Return a minimum: the sheet's time or, where cold dry air makes a bead slower, more.

    `depth` is what is to cure. None where the sheet doesn't state the value.
    """
    sheet_time = _sheet_time(value, sheet, depth=depth)
    if sheet_time is None:
        return None
    what, forecast = _what(value, depth), _scaling_forecast(sheet, weather)
    law = _law_seconds(sheet_time, forecast=forecast, start=weather.start)
    if forecast is None or law <= sheet_time.seconds:
        return _by_sheet(what, sheet_time)
    longer = NEVER if math.isinf(law) else min(NEVER, Duration(math.ceil(law)))
    return _by_weather(what, sheet_time, law=longer, air=forecast.at(weather.start).air)


def at_most(value: SheetValue, sheet: Sheet, *, weather: Weather, depth: Length | None = None) -> Wait | None:
    """Return a maximum: the sheet's time or, where warm damp air makes a bead faster, less.

    None where the sheet doesn't state the value.
    """
    sheet_time = _sheet_time(value, sheet, depth=depth)
    if sheet_time is None:
        return None
    what, forecast = _what(value, depth), _scaling_forecast(sheet, weather)
    law = _law_seconds(sheet_time, forecast=forecast, start=weather.start)
    if forecast is None or law >= sheet_time.seconds:
        return _by_sheet(what, sheet_time)
    # Told in whole minutes that are surely there.
    told = Duration(math.floor(law) // 60 * 60)
    why = _by_weather(what, sheet_time, law=told, air=forecast.at(weather.start).air).why
    return Wait(Duration(math.floor(law)), why)


def in_words(duration: Duration) -> str:
    """Return a duration as people say it, rounded up to the minute: `35 min`, `1 h 20 min`."""
    if duration >= NEVER:
        return "without end"
    if duration.seconds < 3600:
        return f"{duration.whole_minutes} min"
    hours, minutes = divmod(duration.whole_minutes, 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def _sheet_time(value: SheetValue, sheet: Sheet, *, depth: Length | None) -> Duration | None:
    if value is SheetValue.CURE_TO_DEPTH:
        if not isinstance(sheet, SealantSheet) or depth is None:
            return None
        # A day times the square of the depths' ratio, rounded up.
        ratio = Fraction(depth.nm, sheet.depth_per_day.value.nm)
        return Duration(math.ceil(DAY_SECONDS * ratio**2))
    stated: Stated[Duration] | None = getattr(sheet, value, None)
    return None if stated is None else stated.value


def _what(value: SheetValue, depth: Length | None) -> str:
    return f"Cured {depth.in_mm:.3g} mm deep" if depth is not None else WORDS[value]


def _scaling_forecast(sheet: Sheet, weather: Weather) -> Forecast | None:
    """Return the forecast that moves the sheet's times: only a sealant lives on water from the air."""
    return weather.forecast if isinstance(sheet, SealantSheet) else None


def _law_seconds(sheet_time: Duration, *, forecast: Forecast | None, start: datetime) -> float:
    """Return the seconds in this weather that do as much as the sheet's time, infinite in dry air."""
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


def _by_sheet(what: str, sheet_time: Duration) -> Wait:
    return Wait(sheet_time, f"{what} {in_words(sheet_time)}, by the sheet.")


def _by_weather(what: str, sheet_time: Duration, *, law: Duration, air: Air) -> Wait:
    return Wait(
        law,
        f"{what} {in_words(law)} at {air.temp_c * 9 / 5 + 32:.0f} °F and {air.rh:.0f} %; "
        f"{in_words(sheet_time)} by the sheet.",
    )
