"""How materials are packed and sold: rolls, sticks, cartridges, cans, boxes, and cases of them. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol

from openings.methods.method import Grade
from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.quantities.volume import Volume

Unit = Literal["length", "volume", "pieces"]
"""What a material is counted in: nanometres, picolitres or pieces."""


@dataclass(frozen=True, slots=True)
class Price:
    """What one pack costs, with its grade and source."""

    amount: Money
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class Label:
    """What every pack has: a key, unique within its material, a name, and a price where one is known."""

    key: str
    name: str
    price: Price | None = None


class Packaging(Protocol):
    """One way in which a material is sold. A new form is one class here and its line in load.KINDS."""

    @property
    def label(self) -> Label:
        """Return key, name and price."""
        ...

    @property
    def unit(self) -> Unit:
        """Return what `contains` counts."""
        ...

    @property
    def contains(self) -> int:
        """Return what can be used out of one pack: nanometres, picolitres or pieces."""
        ...


@dataclass(frozen=True, slots=True)
class Roll:
    """Membrane, tape or rod on a roll: cut to pieces of a length."""

    label: Label
    length: Length

    @property
    def unit(self) -> Unit:
        """Return length."""
        return "length"

    @property
    def contains(self) -> int:
        """Return the length in nanometres."""
        return self.length.nm


@dataclass(frozen=True, slots=True)
class Cartridge:
    """A cartridge, a sausage or a tin: what is printed on it comes out, waste apart."""

    label: Label
    volume: Volume

    @property
    def unit(self) -> Unit:
        """Return volume."""
        return "volume"

    @property
    def contains(self) -> int:
        """Return the volume in picolitres."""
        return self.volume.pl


@dataclass(frozen=True, slots=True)
class FoamCan:
    """A can of foam: `nominal` is the yield on the label, of which the share `real` is reached."""

    label: Label
    nominal: Volume
    real: Fraction

    @property
    def unit(self) -> Unit:
        """Return volume."""
        return "volume"

    @property
    def contains(self) -> int:
        """Return the real yield in picolitres, rounded down."""
        return int(self.nominal.pl * self.real)


@dataclass(frozen=True, slots=True)
class Box:
    """A box, bag or bundle of pieces; one loose piece is a box of one."""

    label: Label
    pieces: int

    @property
    def unit(self) -> Unit:
        """Return pieces."""
        return "pieces"

    @property
    def contains(self) -> int:
        """Return the number of pieces."""
        return self.pieces


@dataclass(frozen=True, slots=True)
class Case:
    """Several of another pack, sold together."""

    label: Label
    of: Packaging
    count: int

    @property
    def unit(self) -> Unit:
        """Return what the packs within count."""
        return self.of.unit

    @property
    def contains(self) -> int:
        """Return what all packs of the case hold together."""
        return self.count * self.of.contains


def packs_for(quantity: int, packaging: Packaging) -> int:
    """Return how many packs hold `quantity`, rounded up once."""
    return -(-quantity // packaging.contains)
