"""A takeoff line by line, as its page lists it and as a table to take along. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from materials.catalogue.rollup import HouseRollUp
from materials.exchange.table import Table, Value, half_up_parts, in_inches
from projects.quantities.length import Length
from projects.quantities.text import format_feet, format_rounded
from projects.quantities.volume import Volume

COLUMNS = (
    *("project", "house", "openings", "not taken off"),
    *("material", "net need", "unit", "strips", "packs", "pack"),
)
ALL_HOUSES = "all houses"


@dataclass(frozen=True, slots=True)
class Need:
    """One line of a takeoff: how much of a material, in `strips` if it is cut, in `packs` if it is bought.

    `how` says where the number comes from.
    """

    material: str
    amount: Length | Volume | int
    how: str
    strips: int | None = None
    packs: int | None = None
    pack: str = ""

    @property
    def number(self) -> Value:
        """Return the amount as a table has it: inches, cubic inches to a tenth as on pages, or a count."""
        if isinstance(self.amount, Length):
            return in_inches(self.amount)
        if isinstance(self.amount, Volume):
            return Decimal(half_up_parts(self.amount.exact_cubic_inches, 10)).scaleb(-1)
        return self.amount

    @property
    def unit(self) -> str:
        """Return what the number counts."""
        if isinstance(self.amount, Length):
            return "in"
        return "in3" if isinstance(self.amount, Volume) else "each"

    @property
    def length(self) -> Length | None:
        """Return the amount where it is a length."""
        return self.amount if isinstance(self.amount, Length) else None

    @property
    def volume(self) -> Volume | None:
        """Return the amount where it is a volume."""
        return self.amount if isinstance(self.amount, Volume) else None


@dataclass(frozen=True, slots=True)
class Summed:
    """A house, or all of them together: so many openings, some `refused`; `needs` is empty without a sum."""

    project: str
    house: str
    openings: int
    refused: int
    needs: tuple[Need, ...]


def needs_of(rollup: HouseRollUp) -> tuple[Need, ...]:
    """Return a takeoff's lines: membrane by width, sealant, then pieces; what is not needed is left out."""
    return tuple(_needs(rollup))


def takeoff_table(sums: tuple[Summed, ...]) -> Table:
    """Return one row for each line of each sum; a sum without any has one row, which says why."""
    return Table("Takeoff", COLUMNS, tuple(row for each in sums for row in _rows(each)))


def _rows(each: Summed) -> Iterator[tuple[Value, ...]]:
    head = (each.project, each.house, each.openings, each.refused)
    if each.openings and not each.needs:
        yield (*head, "Not summed: a strip is longer than a roll", None, "", None, None, "")
    for need in each.needs:
        yield (*head, need.material, need.number, need.unit, need.strips, need.packs, need.pack)


def _needs(rollup: HouseRollUp) -> Iterator[Need]:
    roll = f"roll of {format_feet(rollup.roll_length)}"
    for strips in rollup.strips:
        told = f"{strips.rolls} roll{'' if strips.rolls == 1 else 's'}"
        yield Need(
            f"Membrane {format_rounded(strips.width)}",
            strips.length,
            f"Strips laid into rolls of {format_feet(rollup.roll_length)}, longest first: {told}",
            strips=strips.count,
            packs=strips.rolls,
            pack=roll,
        )
    beads = "Hinge, back and face beads, with waste, over the tube's content"
    tubes = f"{beads}: {rollup.cartridges} tubes"
    yield Need("Sealant", rollup.sealant, tubes, packs=rollup.cartridges, pack="tube")
    yield Need("Fasteners", rollup.fasteners, "Counted side by side; the maker's schedule overrules")
    pieces: tuple[tuple[str, Length | Volume | int, str], ...] = (
        ("Corner patches", rollup.corner_patches, "Four for open corners, two more per mull"),
        ("Pan corners", rollup.pan_corners, "Two where the pan is plain membrane"),
        ("Rigid pans", rollup.rigid_pans, "One where the wall is too deep for membrane"),
        ("Flap tape", rollup.flap_tape, "Two diagonal cuts per opening"),
        ("Drip cap", rollup.drip_cap, 'Unit width and 1/2" each'),
    )
    yield from (Need(*each) for each in pieces if each[1])
    yield Need("Foam", rollup.foam, "Side, gap and depth; a can yields about half its label")
    if rollup.backer_rod:
        yield Need("Backer rod", rollup.backer_rod, "A quarter wider than the gap")
    yield Need("Shims", rollup.shims, "In pairs at each point")
