"""How deep a bead has cured, and when it reaches a depth, in steady air or over a forecast. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

from crews.cure.air import Air, cure_speed, dew_point_c, vapour_pressure_pa
from crews.cure.forecast import Forecast
from projects.errors import BadValue

REFERENCE_HOURS = 24
# A steady trace is hourly; beyond a year nobody reads it.
LONGEST_TRACE_HOURS = 8784


@dataclass(frozen=True, slots=True)
class CuringBead:
    """A bead that cures to `depth_mm`, by a sheet that states `ref_depth_mm` after 24 h at 23 C and 50 %.

    With two open `sides` each front goes half way. Raises BadValue where a figure can't be.
    """

    depth_mm: float
    ref_depth_mm: float
    sides: int = 1

    def __post_init__(self) -> None:
        """Refuse depths below zero, a sheet on which nothing cures, and a bead with three faces."""
        if not (math.isfinite(self.depth_mm) and self.depth_mm >= 0):
            raise BadValue(
                problem=f"A depth of {self.depth_mm} mm can't be cured.",
                remedy="Give the depth in millimetres, 0 or more.",
                value=self.depth_mm,
            )
        if not (math.isfinite(self.ref_depth_mm) and self.ref_depth_mm > 0):
            raise BadValue(
                problem=f"The sheet's depth is {self.ref_depth_mm} mm a day.",
                remedy="Give what the sheet states after 24 h, above 0 mm.",
                value=self.ref_depth_mm,
            )
        if self.sides not in (1, 2):
            raise BadValue(
                problem=f"A bead can't be open on {self.sides} sides.",
                remedy="Give 1 or 2 open sides.",
                value=self.sides,
            )

    @property
    def front_mm(self) -> float:
        """Return how deep each front must go, in millimetres."""
        return self.depth_mm / self.sides

    @property
    def exposure_needed(self) -> float:
        """Return the hours that the bead would take in the sheet's own air."""
        return float(REFERENCE_HOURS * (self.front_mm / self.ref_depth_mm) ** 2)

    def depth_after(self, exposure: float) -> float:
        """Return the depth of each front in millimetres after `exposure` hours in the sheet's own air.

        Identity: z = ref sqrt(t / 24), stopped where the bead is through. Source: facts.md 6, M.
        """
        return min(self.front_mm, self.ref_depth_mm * math.sqrt(exposure / REFERENCE_HOURS))


@dataclass(frozen=True, slots=True)
class TracePoint:
    """The depth of each front at a time: a row's local time, or hours from the start in steady air."""

    time: datetime | int
    depth_mm: float


@dataclass(frozen=True, slots=True)
class Cure:
    """When a bead is through. `hours` from the start, None where it isn't reached; air as at the start.

    Pressure and dew point are None where the forecast ends before the start.
    """

    hours: float | None
    vapour_pressure_pa: float | None
    dew_point_c: float | None
    trace: tuple[TracePoint, ...]

    @property
    def is_reached(self) -> bool:
        """Return whether the depth is reached at all."""
        return self.hours is not None


def cure_in_steady_air(bead: CuringBead, air: Air) -> Cure:
    """Return when `bead` is through in air that doesn't change, with a point per hour up to that time."""
    speed = cure_speed(air)
    hours = 0.0 if bead.exposure_needed == 0 else bead.exposure_needed / speed if speed else None
    last = 0 if hours is None else min(math.ceil(hours), LONGEST_TRACE_HOURS)
    trace = tuple(TracePoint(hour, bead.depth_after(hour * speed)) for hour in range(last + 1))
    return Cure(hours, vapour_pressure_pa(air), dew_point_c(air), trace)


def cure_over_forecast(bead: CuringBead, *, forecast: Forecast, start: datetime) -> Cure:
    """Return when `bead`, run at `start`, is through, with a point per row of the forecast.

    `hours` is None where the forecast ends too soon. Raises BadValue where `start` lies before the first row.
    """
    trace = _trace_rows(bead, forecast=forecast, start=start)
    if start >= forecast.end:
        return Cure(None, None, None, trace)
    air = forecast.at(start).air
    hours = hours_to_exposure(bead.exposure_needed, forecast=forecast, start=start)
    return Cure(hours, vapour_pressure_pa(air), dew_point_c(air), trace)


def hours_to_exposure(needed: float, *, forecast: Forecast, start: datetime) -> float | None:
    """Return the hours from `start` until a bead has had `needed` hours of the sheet's own air.

    Identity: the integral of p(t) / p_ref over rows of constant p. None where the forecast ends too soon.
    """
    gained = 0.0
    for span in forecast.spans_from(start):
        speed = cure_speed(span.hour.air)
        lasting = _hours(span.end - span.start)
        if gained + speed * lasting >= needed:
            into = (needed - gained) / speed if speed else 0.0
            return _hours(span.start - start) + into
        gained += speed * lasting
    return None


def _trace_rows(bead: CuringBead, *, forecast: Forecast, start: datetime) -> tuple[TracePoint, ...]:
    gained = 0.0
    points = []
    for span in forecast.spans():
        points.append(TracePoint(span.start, bead.depth_after(gained)))
        if span.end > start:
            gained += cure_speed(span.hour.air) * _hours(span.end - max(span.start, start))
    return tuple(points)


def _hours(span: timedelta) -> float:
    return span.total_seconds() / 3600
