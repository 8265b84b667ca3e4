"""Reads a method's steps, waits, hold points and night rules from their tables. Pure."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Any, get_args

from openings.methods.steps import (
    Bound,
    HoldPoint,
    Lag,
    LagKind,
    NightKind,
    NightRule,
    Pace,
    Place,
    SizePoint,
    Step,
)
from openings.methods.tables import Table
from projects.quantities.mass import Mass

SCALINGS = ("size", "fixed")
GATES = ("daylight", "rain", "dry", "dew point", "temperature", "wind")
SHEET_VALUES = (
    "skin_over", "tooling_time", "tack_free", "cure_to_depth", "full_cure", "flash_off", "open_time",
)  # fmt: skip
STEP_KEYS = (
    "code", "label", "layers", "when", "after", "minutes", "people", "scaling", "gates", "within",
    "by_others", "grade", "source",
)  # fmt: skip
LAG_KEYS = ("from", "to", "kind", "min", "max", "why", "grade", "source")
HOLD_KEYS = ("step", "place", "label", "looks", "signs", "grade", "source")
NIGHT_KEYS = ("kind", "label", "opened_by", "closed_by", "minutes", "people", "grade", "source")
BOUND_KEYS = ("minutes", "sheet", "material", "depth_in", "minus_step", "otherwise")
PACE_KEYS = (
    "sizes", "access", "move_minutes", "day_minutes", "set_up_minutes", "three_above_lb", "lift_above_lb",
    "grade", "source",
)  # fmt: skip


def read_step(
    table: Table, *, layers: Collection[str], steps: Collection[str], materials: Collection[str]
) -> Step:
    """Return the step. Raises BadValue where it names what is not known."""
    table.refuse_other_keys(STEP_KEYS)
    step = Step(
        code=table.text("code"),
        label=table.text("label"),
        work=table.minutes("minutes"),
        people=table.count("people"),
        scaling=table.text("scaling", SCALINGS),
        grade=table.grade(),
        source=table.source(),
        layers=table.texts("layers", layers),
        when=table.condition(),
        after=table.texts("after", steps),
        gates=table.texts("gates", GATES),
        within=_bound(table, "within", steps, materials),
        by_others=table.flag("by_others"),
    )
    if not step.by_others and step.people == 0:
        raise table.refusal("people is 0.", "Give at least one person, or by_others = true.")
    return step


def read_lag(table: Table, *, steps: Collection[str], materials: Collection[str]) -> Lag:
    """Return the wait. Raises BadValue where it bounds nothing or names what is not known."""
    table.refuse_other_keys(LAG_KEYS)
    kind: Any = table.text("kind", get_args(LagKind))
    lag = Lag(
        from_step=table.text("from", steps),
        to_step=table.text("to", steps),
        kind=kind,
        why=table.text("why"),
        grade=table.grade(),
        source=table.source(),
        min=_bound(table, "min", steps, materials),
        max=_bound(table, "max", steps, materials),
    )
    if lag.min is None and lag.max is None:
        raise table.refusal("it has neither min nor max.", "Give one of them.")
    return lag


def read_hold_point(table: Table, *, steps: Collection[str]) -> HoldPoint:
    """Return the hold point. Raises BadValue where its step is not known or nobody signs."""
    table.refuse_other_keys(HOLD_KEYS)
    place: Any = table.text("place", get_args(Place))
    return HoldPoint(
        step=table.text("step", steps),
        place=place,
        label=table.text("label"),
        looks=table.texts("looks"),
        signs=table.text("signs"),
        grade=table.grade(),
        source=table.source(),
    )


def read_night_rule(table: Table, *, steps: Collection[str]) -> NightRule:
    """Return the night rule. Raises BadValue where a step is not known."""
    table.refuse_other_keys(NIGHT_KEYS)
    kind: Any = table.text("kind", get_args(NightKind))
    return NightRule(
        kind=kind,
        label=table.text("label"),
        opened_by=table.text("opened_by", steps),
        closed_by=table.text("closed_by", steps),
        work=table.minutes("minutes"),
        people=table.count("people"),
        grade=table.grade(),
        source=table.source(),
    )


def read_pace(table: Table) -> Pace:
    """Return the company's pace. Raises BadValue where a figure is missing."""
    table.refuse_other_keys(PACE_KEYS)
    access = table.inner("access")
    return Pace(
        sizes=tuple(
            SizePoint(row.inches("width_in"), row.inches("height_in"), row.number("factor"))
            for row in table.rows("sizes")
        ),
        access=tuple((name, access.number(name)) for name in access.values),
        move=table.minutes("move_minutes"),
        day=table.minutes("day_minutes"),
        set_up=table.minutes("set_up_minutes"),
        three_above=Mass.pounds(table.number("three_above_lb")),
        lift_above=Mass.pounds(table.number("lift_above_lb")),
        grade=table.grade(),
        source=table.source(),
    )


def follow(step: Step, more: tuple[str, ...]) -> Step:
    """Return the step with further steps that it follows."""
    return replace(step, after=tuple(dict.fromkeys((*step.after, *more))))


def _bound(table: Table, key: str, steps: Collection[str], materials: Collection[str]) -> Bound | None:
    if key not in table.values:
        return None
    inner = table.inner(key)
    inner.refuse_other_keys(BOUND_KEYS)
    if ("minutes" in inner.values) == ("sheet" in inner.values):
        raise inner.refusal("it needs minutes or a sheet's value, not both.", "Give one of the two.")
    if "minutes" in inner.values:
        return Bound(minutes=inner.minutes("minutes"))
    sheet = inner.text("sheet", SHEET_VALUES)
    return Bound(
        sheet=sheet,
        material=inner.text("material", materials),
        depth=inner.inches("depth_in") if sheet == "cure_to_depth" else None,
        minus_step=inner.text("minus_step", steps) if "minus_step" in inner.values else None,
        otherwise=_bound(inner, "otherwise", steps, materials),
    )
