"""Turns a method's file and the common file into a Method, or refuses, saying file and key. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar, get_args

from openings.methods.choices import CHOICE_VALUES
from openings.methods.laps import refuse_broken_order
from openings.methods.layers import read_after, read_blocker, read_caution, read_lap, read_layer
from openings.methods.method import After, JambStrips, Lap, Layer, Method
from openings.methods.steps import HoldPoint, Lag, NightRule, Step
from openings.methods.tables import Table
from openings.methods.work import follow, read_hold_point, read_lag, read_night_rule, read_pace, read_step

OWN_KEYS = (
    "code", "label", "jamb_strips", "wrb_before", "over_fin_default", "over_fin_allowed", "over_fin_reason",
    "grade", "source", "layers", "steps", "step_after",
)  # fmt: skip
ROW_KEYS = ("layer", "lap", "after", "caution", "step", "lag", "hold_point", "night_rule")
COMMON_KEYS = ("materials", "blocker", "pace", *ROW_KEYS)
Part = TypeVar("Part")


@dataclass(frozen=True, slots=True)
class Names:
    """What a table may name: layers, steps, materials."""

    layers: tuple[str, ...]
    steps: tuple[str, ...]
    materials: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Files:
    """The common file and a method's own; the names both know, and those the method has chosen."""

    common: Table
    own: Table
    known: Names
    chosen: Names

    def parts(
        self, key: str, read: Callable[[Table, Names], Part], ends: Callable[[Part], tuple[str, ...]]
    ) -> tuple[Part, ...]:
        """Return the parts under `key`: the common ones whose `ends` the method has, and its own."""
        held = {*self.chosen.layers, *self.chosen.steps}
        common = (read(row, self.known) for row in self.common.rows(key))
        own = (read(row, self.chosen) for row in self.own.rows(key))
        return (*(part for part in common if held.issuperset(ends(part))), *own)


def build_method(own: Table, common: Table) -> Method:
    """Return the method of the file `own`.

    Raises BadValue, saying file and key, where a key is unknown, a value has no grade or source, something is
    named that does not exist, or the file's own order breaks its laps.
    """
    own.refuse_other_keys((*OWN_KEYS, *ROW_KEYS))
    common.refuse_other_keys(COMMON_KEYS)
    files = _files(own, common)
    allowed = own.texts("over_fin_allowed", CHOICE_VALUES["over_fin"])
    jamb_strips: Any = own.text("jamb_strips", get_args(JambStrips))
    method = Method(
        code=own.text("code"),
        label=own.text("label"),
        jamb_strips=jamb_strips,
        wrb_before=own.flag("wrb_before"),
        over_fin_default=own.text("over_fin_default", allowed),
        over_fin_allowed=allowed,
        over_fin_reason=own.text("over_fin_reason"),
        grade=own.grade(),
        source=own.source(),
        layers=_layers(files),
        laps=_laps(files),
        afters=_afters(files),
        steps=_steps(files),
        lags=_lags(files),
        hold_points=_hold_points(files),
        night_rules=_night_rules(files),
        blockers=tuple(read_blocker(row) for row in common.rows("blocker")),
        cautions=files.parts("caution", lambda t, _: read_caution(t), lambda _: ()),
        pace=read_pace(common.inner("pace")),
    )
    refuse_broken_order(method, place=own.place)
    return method


def item_names(common: Table, methods: Sequence[Method]) -> tuple[str, ...]:
    """Return everything an order may name: the common file's layers and blockers, then the methods' own."""
    names = [row.text("name") for key in ("layer", "blocker") for row in common.rows(key)]
    names += [layer.name for method in methods for layer in method.layers]
    return tuple(dict.fromkeys(names))


def _files(own: Table, common: Table) -> Files:
    known = Names(
        layers=_all_names("layer", "name", common, own),
        steps=_all_names("step", "code", common, own),
        materials=common.texts("materials"),
    )
    chosen = Names(
        layers=own.texts("layers", known.layers),
        steps=own.texts("steps", known.steps),
        materials=known.materials,
    )
    return Files(common=common, own=own, known=known, chosen=chosen)


def _all_names(key: str, name: str, common: Table, own: Table) -> tuple[str, ...]:
    for table in (common, own):
        names = [row.text(name) for row in table.rows(key)]
        for row, each in zip(table.rows(key), names, strict=True):
            if names.count(each) > 1:
                raise row.refusal(f"{name} {each!r} stands twice.", "Keep one of them.", each)
    return tuple(dict.fromkeys(row.text(name) for table in (common, own) for row in table.rows(key)))


def _layers(files: Files) -> tuple[Layer, ...]:
    known = files.known
    rows = (*files.common.rows("layer"), *files.own.rows("layer"))
    layers = {row.text("name"): read_layer(row, steps=known.steps, materials=known.materials) for row in rows}
    chosen = tuple(layers[name] for name in files.chosen.layers)
    for layer in chosen:
        if layer.step not in files.chosen.steps:
            raise files.own.refusal(
                f"layer {layer.name!r} needs step {layer.step!r}.", "Add it to steps.", layer.step
            )
    return chosen


def _steps(files: Files) -> tuple[Step, ...]:
    known, chosen = files.known, files.chosen
    rows = (*files.common.rows("step"), *files.own.rows("step"))
    steps = {
        row.text("code"): read_step(row, layers=known.layers, steps=known.steps, materials=known.materials)
        for row in rows
    }
    for row in files.own.rows("step_after"):
        row.refuse_other_keys(("step", "after"))
        code = row.text("step", chosen.steps)
        steps[code] = follow(steps[code], row.texts("after", chosen.steps))
    return tuple(_within(steps[code], chosen) for code in chosen.steps)


def _within(step: Step, chosen: Names) -> Step:
    """Return the step without what the method does not have."""
    return replace(
        step,
        layers=tuple(name for name in step.layers if name in chosen.layers),
        after=tuple(code for code in step.after if code in chosen.steps),
    )


def _laps(files: Files) -> tuple[Lap, ...]:
    return files.parts("lap", lambda t, n: read_lap(t, n.layers), lambda lap: (lap.over, lap.under))


def _afters(files: Files) -> tuple[After, ...]:
    return files.parts("after", lambda t, n: read_after(t, n.layers), lambda after: (after.first, after.then))


def _lags(files: Files) -> tuple[Lag, ...]:
    return files.parts(
        "lag",
        lambda t, n: read_lag(t, steps=n.steps, materials=n.materials),
        lambda lag: (lag.from_step, lag.to_step),
    )


def _hold_points(files: Files) -> tuple[HoldPoint, ...]:
    return files.parts(
        "hold_point", lambda t, n: read_hold_point(t, steps=n.steps), lambda point: (point.step,)
    )


def _night_rules(files: Files) -> tuple[NightRule, ...]:
    return files.parts(
        "night_rule",
        lambda t, n: read_night_rule(t, steps=n.steps),
        lambda rule: (rule.opened_by, rule.closed_by),
    )
