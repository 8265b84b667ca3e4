"""Reads a method's layers, laps, order and cautions from their tables. Pure."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, get_args

from openings.methods.method import After, Blocker, Caution, Face, Lap, Layer, Run, Spot
from openings.methods.tables import Table
from projects.quantities.length import ZERO_LENGTH

ZONES = ("sill", "jamb", "head", "corner", "opening")
KINDS = (
    "sheet", "strip", "pan", "patch", "bead", "unit", "fasteners", "cap", "flap", "tape", "seal",
)  # fmt: skip
HATCHES = (
    "rising", "falling", "crossed", "level", "steep", "weave", "dots", "cells", "solid", "bare",
)  # fmt: skip
SIZES = ("sill_strip_width", "jamb_strip_width", "head_strip_width", "pan_turn_down")
LAYER_KEYS = (
    "name", "zone", "kind", "material", "other_material", "step", "when", "never_missing", "hatch", "run",
    "grade", "source",
)  # fmt: skip
LAP_KEYS = ("over", "under", "when", "tuck", "why", "grade", "source")
AFTER_KEYS = ("first", "then", "when", "why", "grade", "source")
BLOCKER_KEYS = ("name", "hatch", "run", "when", "why", "grade", "source")
CAUTION_KEYS = ("text", "when", "grade", "source")
RUN_KEYS = ("face", "start_in", "start_of", "end_in", "end_of", "beyond", "turns_in", "when")


def read_layer(table: Table, *, steps: Collection[str], materials: Collection[str]) -> Layer:
    """Return the layer. Raises BadValue where it names an unknown step or material."""
    table.refuse_other_keys(LAYER_KEYS)
    return Layer(
        name=table.text("name"),
        zone=table.text("zone", ZONES),
        kind=table.text("kind", KINDS),
        material=table.text("material", materials),
        step=table.text("step", steps),
        hatch=table.text("hatch", HATCHES),
        grade=table.grade(),
        source=table.source(),
        when=table.condition(),
        other_materials=tuple(
            (row.condition(), row.text("material", materials)) for row in table.rows("other_material")
        ),
        runs=tuple(_run(row) for row in table.rows("run")),
        never_missing=table.flag("never_missing"),
    )


def read_lap(table: Table, layers: Collection[str]) -> Lap:
    """Return the lap. Raises BadValue where it names an unknown layer."""
    table.refuse_other_keys(LAP_KEYS)
    return Lap(
        over=table.text("over", layers),
        under=table.text("under", layers),
        why=table.text("why"),
        grade=table.grade(),
        source=table.source(),
        when=table.condition(),
        tuck=table.flag("tuck"),
    )


def read_after(table: Table, layers: Collection[str]) -> After:
    """Return the order. Raises BadValue where it names an unknown layer."""
    table.refuse_other_keys(AFTER_KEYS)
    return After(
        first=table.text("first", layers),
        then=table.text("then", layers),
        why=table.text("why"),
        grade=table.grade(),
        source=table.source(),
        when=table.condition(),
    )


def read_blocker(table: Table) -> Blocker:
    """Return what closes the drainage."""
    table.refuse_other_keys(BLOCKER_KEYS)
    return Blocker(
        name=table.text("name"),
        hatch=table.text("hatch", HATCHES),
        why=table.text("why"),
        grade=table.grade(),
        source=table.source(),
        when=table.condition(),
        runs=tuple(_run(row) for row in table.rows("run")),
    )


def read_caution(table: Table) -> Caution:
    """Return the caution."""
    table.refuse_other_keys(CAUTION_KEYS)
    return Caution(
        text=table.text("text"), grade=table.grade(), source=table.source(), when=table.condition()
    )


def _run(table: Table) -> Run:
    table.refuse_other_keys(RUN_KEYS)
    face: Any = table.text("face", get_args(Face))
    run = Run(
        face=face,
        start=_spot(table, "start"),
        end=_spot(table, "end"),
        beyond=table.flag("beyond"),
        turns_in=table.flag("turns_in"),
        when=table.condition(),
    )
    if run.start.of is run.end.of is None and run.end.past <= run.start.past:
        raise table.refusal("end_in is not beyond start_in.", "Give start_in below end_in.")
    return run


def _spot(table: Table, end: str) -> Spot:
    of = table.text(f"{end}_of", SIZES) if f"{end}_of" in table.values else None
    past = ZERO_LENGTH if of and f"{end}_in" not in table.values else table.inches(f"{end}_in", negative=True)
    return Spot(past=past, of=of)
