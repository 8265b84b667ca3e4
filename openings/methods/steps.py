"""What the work of a method is: steps, people, waits between them, hold points and night rules. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from openings.methods.choices import ALWAYS, Condition
from projects.quantities.duration import Duration
from projects.quantities.length import Length
from projects.quantities.mass import Mass

Grade = Literal["P", "M", "C", "D", "E"]
LagKind = Literal["start-start", "finish-start"]
Place = Literal["before", "after"]
NightKind = Literal["cover", "never"]


@dataclass(frozen=True, slots=True)
class Bound:
    """One end of a wait: fixed minutes, or a value of a material's sheet, less the time of `minus_step`.

    `depth` goes with the cured depth; `otherwise` holds where the sheet says nothing.
    """

    minutes: Duration | None = None
    sheet: str | None = None
    material: str | None = None
    depth: Length | None = None
    minus_step: str | None = None
    otherwise: Bound | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of work. `work` is person-time for a 3 x 5 ft unit on the ground floor.

    `layers` are what it applies; `after` the steps it follows for reasons other than laps; `gates` what the
    weather must allow; `within` how long it may last from its own first minute; `scaling` how `work` grows.
    A step by others has no work of ours.
    """

    code: str
    label: str
    work: Duration
    people: int
    scaling: str
    grade: Grade
    source: str
    layers: tuple[str, ...] = ()
    when: Condition = ALWAYS
    after: tuple[str, ...] = ()
    gates: tuple[str, ...] = ()
    within: Bound | None = None
    by_others: bool = False


@dataclass(frozen=True, slots=True)
class Lag:
    """How long after `from_step` the step `to_step` starts, at least and at most."""

    from_step: str
    to_step: str
    kind: LagKind
    why: str
    grade: Grade
    source: str
    min: Bound | None = None
    max: Bound | None = None


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """Work stops before or after `step` until `signs` has looked at `looks`."""

    step: str
    place: Place
    label: str
    looks: tuple[str, ...]
    signs: str
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class NightRule:
    """What holds overnight between the end of `opened_by` and the end of `closed_by`.

    cover: the opening gets a cover-up task at the day's end. never: the day may not end in between.
    """

    kind: NightKind
    label: str
    opened_by: str
    closed_by: str
    work: Duration
    people: int
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class SizePoint:
    """At this size of unit a step's work is multiplied by `factor`."""

    width: Length
    height: Length
    factor: Fraction


@dataclass(frozen=True, slots=True)
class Pace:
    """The company's own figures for the day: how work grows with size and access, and what a day holds.

    `three_above` and `lift_above` are the unit's weights beyond which setting takes three people or a lift.
    """

    sizes: tuple[SizePoint, ...]
    access: tuple[tuple[str, Fraction], ...]
    move: Duration
    day: Duration
    set_up: Duration
    three_above: Mass
    lift_above: Mass
    grade: Grade
    source: str
