"""Why a line says what it says: formula, inputs with their values and origins, source, grade. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from openings.methods.method import Grade, Method
from openings.takeoff.demand import Line
from openings.takeoff.opening import OpeningInput
from openings.takeoff.settings import SETTINGS
from openings.takeoff.specification import DEFAULT, Specification
from projects.quantities.length import Length
from projects.quantities.text import format_length

Origin = Literal["window schedule", "specification", "method"]
ROW_LABELS = {
    "unit_width": "Unit width",
    "unit_height": "Unit height",
    "ro_width": "RO width",
    "ro_height": "RO height",
    "mulls": "Mulls",
}
CHANGED = "set by the company"


@dataclass(frozen=True, slots=True)
class Input:
    """One value that a formula read. `grade` is empty where a person gave the value."""

    name: str
    label: str
    value: str
    origin: Origin
    grade: Grade | Literal[""]
    source: str


@dataclass(frozen=True, slots=True)
class Why:
    """The whole reason for one line."""

    part: str
    zone: str
    formula: str
    inputs: tuple[Input, ...]
    grade: Grade
    source: str


def explain(line: Line, *, opening: OpeningInput, specification: Specification, method: Method) -> Why:
    """Return why `line` stands in the takeoff of `opening`; the method that brings it comes last."""
    inputs = tuple(_input(name, opening, specification, method) for name in line.stated.inputs)
    return Why(
        part=line.part,
        zone=line.zone,
        formula=line.basis,
        inputs=(*inputs, _method(opening, method)),
        grade=line.grade,
        source=line.source,
    )


def _input(name: str, opening: OpeningInput, specification: Specification, method: Method) -> Input:
    if name in ROW_LABELS:
        value = _text(getattr(opening, name))
        return Input(name, ROW_LABELS[name], value, "window schedule", "", "as read")
    setting = SETTINGS[name]
    own = getattr(opening, name, None)
    if own is not None:
        return Input(name, setting.label, _text(own), "window schedule", "", "as read")
    chosen = setting.value(specification)
    if chosen is None:
        return Input(name, setting.label, method.over_fin_default, "method", method.grade, method.source)
    if chosen != setting.value(DEFAULT):
        return Input(name, setting.label, setting.text(specification), "specification", "", CHANGED)
    shown = setting.text(specification)
    return Input(name, setting.label, shown, "specification", setting.grade, setting.source)


def _method(opening: OpeningInput, method: Method) -> Input:
    origin: Origin = "specification" if opening.method is None else "window schedule"
    return Input("method", "Method", f"{method.code}: {method.label}", origin, method.grade, method.source)


def _text(value: object) -> str:
    return format_length(value) if isinstance(value, Length) else f"{value}"
