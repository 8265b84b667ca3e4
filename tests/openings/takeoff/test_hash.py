"""The hash of what a takeoff reads: the same inputs, the same answer."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from openings.takeoff.compute import input_hash
from openings.takeoff.opening import GlassPanes, OpeningInput
from openings.takeoff.specification import DEFAULT, Specification
from projects.quantities.length import Length
from projects.quantities.mass import Mass
from tests.openings.takeoff.cases import inch, opening, spec

ROWS = [opening(mark="W1"), opening(mark="W2", width=48)]
CHANGED: dict[str, Any] = {
    "mark": "W9",
    "elevation": "Rear",
    "unit_width": inch(35),
    "unit_height": inch(59),
    "ro_width": inch(37),
    "ro_height": inch(61),
    "fin": "folding",
    "corners": "open",
    "method": "A",
    "over_fin": "sealed",
    "pan": "rigid",
    "wall_depth": inch(7),
    "sill_height": inch(30),
    "offset": inch(40),
    "mulls": 1,
    "weight": Mass.pounds(80),
    "glass": GlassPanes(2, Length.mm(3)),
    "fastener_corner": inch(4),
    "fastener_max": inch(10),
    "head_fasteners": "no",
}
UNREAD = {"flags", "note", "row"}


def test_hash_does_not_depend_on_the_order_of_openings() -> None:
    assert input_hash(ROWS, DEFAULT) == input_hash(list(reversed(ROWS)), DEFAULT)
    assert len(input_hash(ROWS, DEFAULT)) == 64


@pytest.mark.parametrize("name", [field.name for field in fields(OpeningInput) if field.name not in UNREAD])
def test_each_value_that_is_read_changes_the_hash(name: str) -> None:
    changed = [replace(ROWS[0], **{name: CHANGED[name]}), ROWS[1]]

    assert input_hash(changed, DEFAULT) != input_hash(ROWS, DEFAULT)


def test_notes_flags_and_row_numbers_change_no_hash() -> None:
    changed = [replace(ROWS[0], note="left of the door", flags=("egress",), row=7), ROWS[1]]

    assert input_hash(changed, DEFAULT) == input_hash(ROWS, DEFAULT)


@pytest.mark.parametrize("name", [field.name for field in fields(Specification)])
def test_each_setting_changes_the_hash(name: str) -> None:
    value = getattr(DEFAULT, name)
    other = {"over_fin": "sealed", "cartridge": spec(cartridge_floz="20").cartridge}.get(name)
    if other is None:
        other = not value if isinstance(value, bool) else _other(value)

    assert input_hash(ROWS, replace(DEFAULT, **{name: other})) != input_hash(ROWS, DEFAULT)


def test_opening_more_or_twice_is_another_hash() -> None:
    assert input_hash(ROWS[:1], DEFAULT) != input_hash(ROWS, DEFAULT)
    assert input_hash([*ROWS, ROWS[1]], DEFAULT) != input_hash(ROWS, DEFAULT)


def _other(value: Any) -> Any:
    if isinstance(value, Length):
        return value + Length(1)
    if isinstance(value, tuple):
        return value[1:]
    return f"{value}x" if isinstance(value, str) else value * 2
