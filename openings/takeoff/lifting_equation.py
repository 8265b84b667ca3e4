"""How much one person should lift, by the revised NIOSH lifting equation in US units. Pure.

Source: NIOSH 94-110, pages 7 to 16 (P); frequency multipliers: eight code copies that agree (P as data).
Printed tables round, and differ from the formulas in three cells: the formulas hold. Ladders are not covered.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Duration = Literal["up to 1 hour", "up to 2 hours", "up to 8 hours"]
Coupling = Literal["good", "fair", "poor"]

LOAD_CONSTANT = Fraction(51)
KNEE_HIGH = 30
FREQUENCIES = (Fraction(1, 5), Fraction(1, 2), *(Fraction(times) for times in range(1, 16)))
# In hundredths, by duration, for lifts that begin below 30 in and from 30 in on.
FREQUENCY_MULTIPLIERS: dict[Duration, tuple[tuple[int, ...], tuple[int, ...]]] = {
    "up to 1 hour": (
        (100, 97, 94, 91, 88, 84, 80, 75, 70, 60, 52, 45, 41, 37, 0, 0, 0),
        (100, 97, 94, 91, 88, 84, 80, 75, 70, 60, 52, 45, 41, 37, 34, 31, 28),
    ),
    "up to 2 hours": (
        (95, 92, 88, 84, 79, 72, 60, 50, 42, 35, 30, 26, 0, 0, 0, 0, 0),
        (95, 92, 88, 84, 79, 72, 60, 50, 42, 35, 30, 26, 23, 21, 0, 0, 0),
    ),
    "up to 8 hours": (
        (85, 81, 75, 65, 55, 45, 35, 27, 22, 18, 0, 0, 0, 0, 0, 0, 0),
        (85, 81, 75, 65, 55, 45, 35, 27, 22, 18, 15, 13, 0, 0, 0, 0, 0),
    ),
}
COUPLING_MULTIPLIERS: dict[Coupling, tuple[Fraction, Fraction]] = {
    "good": (Fraction(1), Fraction(1)),
    "fair": (Fraction(95, 100), Fraction(1)),
    "poor": (Fraction(90, 100), Fraction(90, 100)),
}


@dataclass(frozen=True, slots=True)
class Lift:
    """One lift, in inches, degrees and lifts a minute; the plain one is the ideal.

    `horizontal` and `vertical` are the hands' place where the limit is asked for, `origin` their height where
    the lift begins (frequency goes by it; None: the same place), `travel` the height difference.
    """

    horizontal: Fraction = Fraction(10)
    vertical: Fraction = Fraction(30)
    travel: Fraction = Fraction(10)
    turn: Fraction = Fraction(0)
    frequency: Fraction = Fraction(1, 5)
    duration: Duration = "up to 1 hour"
    coupling: Coupling = "good"
    origin: Fraction | None = None


def recommended_limit(lift: Lift) -> Fraction:
    """Return the recommended weight limit in pounds, in full precision."""
    return (
        LOAD_CONSTANT
        * horizontal_multiplier(lift.horizontal)
        * vertical_multiplier(lift.vertical)
        * distance_multiplier(lift.travel)
        * turn_multiplier(lift.turn)
        * frequency_multiplier(lift)
        * COUPLING_MULTIPLIERS[lift.coupling][lift.vertical >= KNEE_HIGH]
    )


def horizontal_multiplier(inches: Fraction) -> Fraction:
    """Return 10 / H: 1 up to 10 in, 0 beyond 25."""
    return Fraction(0) if inches > 25 else 10 * _reciprocal(max(inches, Fraction(10)))


def vertical_multiplier(inches: Fraction) -> Fraction:
    """Return 1 - 0.0075 |V - 30|, 0 above 70 in."""
    return Fraction(0) if inches > 70 else 1 - Fraction(75, 10_000) * abs(inches - KNEE_HIGH)


def distance_multiplier(inches: Fraction) -> Fraction:
    """Return 0.82 + 1.8 / D: 1 up to 10 in, 0 beyond 70."""
    if inches > 70:
        return Fraction(0)
    return Fraction(82, 100) + Fraction(18, 10) * _reciprocal(max(inches, Fraction(10)))


def turn_multiplier(degrees: Fraction) -> Fraction:
    """Return 1 - 0.0032 A, 0 beyond 135 degrees."""
    return Fraction(0) if degrees > 135 else 1 - Fraction(32, 10_000) * degrees


def frequency_multiplier(lift: Lift) -> Fraction:
    """Return the table's multiplier, linear between its rows, 0 above 15 a minute."""
    begins_at = lift.vertical if lift.origin is None else lift.origin
    table = FREQUENCY_MULTIPLIERS[lift.duration][begins_at >= KNEE_HIGH]
    frequency = max(lift.frequency, FREQUENCIES[0])
    if frequency > FREQUENCIES[-1]:
        return Fraction(0)
    above = next(place for place, row in enumerate(FREQUENCIES) if row >= frequency)
    if FREQUENCIES[above] == frequency:
        return Fraction(table[above], 100)
    low, high = FREQUENCIES[above - 1], FREQUENCIES[above]
    share = (frequency - low) * _reciprocal(high - low)
    return (table[above - 1] + share * (table[above] - table[above - 1])) * Fraction(1, 100)


def _reciprocal(value: Fraction) -> Fraction:
    return Fraction(value.denominator, value.numerator)
