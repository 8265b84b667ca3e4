"""What a house's demand comes to: strips and rolls, sealant and cartridges, screws, patches. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from materials.catalogue.first_fit import rolls_first_fit
from openings.takeoff.demand import Demand
from openings.takeoff.specification import Specification
from projects.quantities.length import Length
from projects.quantities.volume import Area, Volume

SHOWN_DECIMALS = 4


@dataclass(frozen=True, slots=True)
class Strips:
    """The strips of one width together, net, and the rolls they are cut from."""

    width: Length
    length: Length
    count: int
    rolls: int


@dataclass(frozen=True, slots=True)
class Packs:
    """What is said of a house first. `rolls` by width in nanometres; all rounded up once, over the house."""

    rolls: Mapping[int, int]
    cartridges: int
    fasteners: int
    corner_patches: int


@dataclass(frozen=True, slots=True)
class HouseRollUp:
    """A house's totals. Packs are rounded up once, here; `screw` is None where no stock screw reaches."""

    strips: tuple[Strips, ...]
    roll_length: Length
    sealant: Volume
    cartridges: int
    fasteners: int
    screw: Length | None
    corner_patches: int
    pan_corners: int
    rigid_pans: int
    flap_tape: Length
    foam: Volume
    backer_rod: Length
    shims: int
    drip_cap: Length

    @property
    def strip_area(self) -> Area:
        """Return the strips' area, which primer has to cover."""
        return Area(sum(strips.width.nm * strips.length.nm for strips in self.strips))


def pack_house(demand: Demand, specification: Specification) -> Packs:
    """Return the packs that `demand` comes to. Raises BadValue where a strip is longer than a roll."""
    sums, roll, trim = _sums(demand), specification.roll_length, specification.strip_trim
    return Packs(
        rolls={
            width_nm: rolls_first_fit(lengths, roll=roll, trim=trim)
            for width_nm, lengths in strips_by_width(demand).items()
        },
        cartridges=cartridges_for(Volume(sums.get("sealant", 0)), specification),
        fasteners=sums.get("fasteners", 0),
        corner_patches=sums.get("corner patch", 0),
    )


def roll_up_house(demand: Demand, specification: Specification) -> HouseRollUp:
    """Return the totals of `demand`. Raises BadValue where a strip is longer than a roll."""
    sums, packs = _sums(demand), pack_house(demand, specification)
    screws = {need.size_nm for need in demand if need.kind == "fasteners"}
    return HouseRollUp(
        strips=tuple(
            Strips(Length(width_nm), _total_length(lengths), sum(lengths.values()), packs.rolls[width_nm])
            for width_nm, lengths in strips_by_width(demand).items()
        ),
        roll_length=specification.roll_length,
        sealant=Volume(sums.get("sealant", 0)),
        cartridges=packs.cartridges,
        fasteners=packs.fasteners,
        screw=Length(max(screws)) if screws and 0 not in screws else None,
        corner_patches=packs.corner_patches,
        pan_corners=sums.get("pan corner", 0),
        rigid_pans=sums.get("pan", 0),
        flap_tape=Length(sums.get("tape", 0)),
        foam=Volume(sums.get("foam", 0)),
        backer_rod=Length(sums.get("rod", 0)),
        shims=sums.get("shims", 0),
        drip_cap=Length(sums.get("stick", 0)),
    )


def cartridges_for(sealant: Volume, specification: Specification) -> int:
    """Return the cartridges that hold `sealant` and its waste, rounded up once."""
    return -(-sealant.pl * (1 + specification.sealant_waste) // specification.cartridge.pl)


def rollup_as_json(rollup: HouseRollUp) -> dict[str, Any]:
    """Return the totals in the published form, lengths in inches, keys of widths as bare inches."""
    roll_name = f"{shown(rollup.roll_length.exact_inches / 12)} ft"
    return {
        "strips": {
            shown(strips.width.exact_inches): {"length_in": strips.length.in_inches, "count": strips.count}
            for strips in rollup.strips
        },
        "rolls": {shown(strips.width.exact_inches): {roll_name: strips.rolls} for strips in rollup.strips},
        "sealant_in3": rollup.sealant.in_cubic_inches,
        "cartridges": rollup.cartridges,
        "fasteners": rollup.fasteners,
        "screw_length_in": None if rollup.screw is None else rollup.screw.in_inches,
        "corner_patches": rollup.corner_patches,
        "pan_corners": rollup.pan_corners,
        "rigid_pans": rollup.rigid_pans,
        "flap_tape_in": rollup.flap_tape.in_inches,
        "foam_in3": rollup.foam.in_cubic_inches,
        "backer_rod_in": rollup.backer_rod.in_inches,
        "shims": rollup.shims,
        "drip_cap_in": rollup.drip_cap.in_inches,
        "strip_area_in2": rollup.strip_area.in_square_inches,
    }


def shown(number: Fraction) -> str:
    """Return a number as a key: `9`, `4.5`, at most four decimals."""
    return f"{float(round(number, SHOWN_DECIMALS)):.{SHOWN_DECIMALS}f}".rstrip("0").rstrip(".")


def strips_by_width(demand: Demand) -> Mapping[int, Mapping[int, int]]:
    """Return the strips counted by width and length, both in nanometres, narrowest first."""
    widths: dict[int, dict[int, int]] = {}
    for (kind, _, width_nm, length_nm), count in demand.items():
        if kind == "strip":
            lengths = widths.setdefault(width_nm, {})
            lengths[length_nm] = lengths.get(length_nm, 0) + count
    return dict(sorted(widths.items()))


def _total_length(lengths: Mapping[int, int]) -> Length:
    return Length(sum(length_nm * count for length_nm, count in lengths.items()))


def _sums(demand: Demand) -> Mapping[str, int]:
    """Return the amounts by kind, pieces by part; what has a length counts as its nanometres."""
    sums: dict[str, int] = {}
    for (kind, part, _, length_nm), amount in demand.items():
        name = part if kind == "piece" else kind
        sums[name] = sums.get(name, 0) + (amount * length_nm if length_nm else amount)
    return sums
