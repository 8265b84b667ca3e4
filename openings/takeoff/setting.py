"""What a setting of the specification is, how its text is read and how its value is shown. Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from openings.methods.load import load_methods
from openings.methods.method import Grade
from openings.takeoff.specification import DEFAULT, Specification
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.text import format_length, parse_length
from projects.quantities.volume import FLOZ_PER_GALLON, IN3_PER_GALLON, Volume

Kind = Literal["length", "lengths", "fraction", "fluid ounces", "yes or no", "choice", "method"]
_DECIMAL = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
LONGEST_LIST = 24
LARGEST_CARTRIDGE = 640


@dataclass(frozen=True, slots=True)
class Setting:
    """One row of the table of settings. `field` names the Specification's own field where it differs.

    `low` and `high` bound a length (each length of a list), both included; `choices` are all the values of
    a choice.
    """

    name: str
    label: str
    kind: Kind
    grade: Grade
    source: str
    help: str
    low: Length | None = None
    high: Length | None = None
    choices: tuple[str, ...] = ()
    field: str | None = None

    @property
    def unit(self) -> str:
        """Return the unit that a bare number has, empty where there is none."""
        units = {"length": "in", "lengths": "in", "fraction": "share", "fluid ounces": "fl oz"}
        return units.get(self.kind, "")

    @property
    def default(self) -> Any:
        """Return the default's plain value, as JSON carries it."""
        return self.shown(DEFAULT)

    @property
    def options(self) -> tuple[str, ...]:
        """Return the texts a person may choose from, none where any value in range will do."""
        if self.kind == "method":
            return tuple(load_methods())
        return ("yes", "no") if self.kind == "yes or no" else self.choices

    def value(self, specification: Specification) -> Any:
        """Return the setting's value in `specification`."""
        return getattr(specification, self.field or self.name)

    def shown(self, specification: Specification) -> Any:
        """Return the value as JSON carries it: inches, fluid ounces, shares, texts, true and false."""
        value = self.value(specification)
        if isinstance(value, Length):
            return value.in_inches
        if isinstance(value, tuple):
            return [length.in_inches for length in value]
        if isinstance(value, Volume):
            return in_fluid_ounces(value)
        return as_decimal(value) if isinstance(value, Fraction) else value

    def text(self, specification: Specification) -> str:
        """Return the value as a person reads and may type it."""
        value = self.value(specification)
        if isinstance(value, Length):
            return format_length(value)
        if isinstance(value, tuple):
            return ", ".join(format_length(length) for length in value)
        if isinstance(value, bool):
            return "yes" if value else "no"
        return "" if value is None else f"{self.shown(specification)}"

    def parse(self, text: str) -> Any:
        """Return the value that `text` states. Raises BadValue, naming the setting."""
        try:
            return self._read(text.strip())
        except BadValue as error:
            raise BadValue(
                problem=f"{self.name}: {error.problem}", remedy=error.remedy, value=error.value
            ) from None

    def _read(self, text: str) -> Any:
        if self.kind == "length":
            return self._in_range(parse_length(text))
        if self.kind == "lengths":
            return self._list(text)
        if self.kind == "fraction":
            return _fraction(text)
        if self.kind == "fluid ounces":
            return _fluid_ounces(text)
        chosen = _one_of(text, self.options)
        return chosen == "yes" if self.kind == "yes or no" else chosen

    def _list(self, text: str) -> tuple[Length, ...]:
        parts = [part.strip() for part in text.split(",")]
        if len(parts) > LONGEST_LIST or not all(parts):
            raise BadValue(
                problem=f"{text!r} is not a list of lengths.",
                remedy="Put commas between the lengths: 4,6,9,12.",
                value=text,
            )
        return tuple(sorted({self._in_range(parse_length(part)) for part in parts}))

    def _in_range(self, length: Length) -> Length:
        if (self.low is not None and length < self.low) or (self.high is not None and length > self.high):
            low, high = (format_length(limit) for limit in (self.low or length, self.high or length))
            raise BadValue(
                problem=f"{format_length(length)} is out of range.",
                remedy=f"Give {low} to {high}.",
                value=format_length(length),
            )
        return length


def in_fluid_ounces(volume: Volume) -> float:
    """Return US fluid ounces for JSON, to 1e-5: beyond that a picolitre's rounding shows."""
    return round(volume.in_cubic_inches * FLOZ_PER_GALLON / IN3_PER_GALLON, 5)


def as_decimal(share: Fraction) -> float:
    """Return a share as a decimal, for JSON."""
    return share.numerator / share.denominator


def _fraction(text: str) -> Fraction:
    if not _DECIMAL.fullmatch(text) or Fraction(text) > 1:
        raise BadValue(
            problem=f"{text!r} is not a share between 0 and 1.",
            remedy="Write 10 percent as 0.10.",
            value=text,
        )
    return Fraction(text)


def _fluid_ounces(text: str) -> Volume:
    if not _DECIMAL.fullmatch(text) or not 0 < Fraction(text) <= LARGEST_CARTRIDGE:
        raise BadValue(
            problem=f"{text!r} is not a cartridge size in fluid ounces.",
            remedy=f"Give a number above 0, up to {LARGEST_CARTRIDGE}, such as 10.1.",
            value=text,
        )
    return Volume.fluid_ounces(Fraction(text))


def _one_of(text: str, options: Sequence[str]) -> str:
    plain = text.casefold().replace("_", " ")
    for option in options:
        if option.casefold() == plain:
            return option
    raise BadValue(
        problem=f"{text!r} is not one of the choices.",
        remedy=f"Use one of: {', '.join(options)}.",
        value=text,
    )
