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


def roll_up_house(demand: Demand, specification: Specification) -> HouseRollUp:
    """Return the totals of `demand`. Raises BadValue where a strip is longer than a roll."""
    sealant_pl = _sum(demand, "sealant")
    screws = {need.size_nm for need in demand if need.kind == "fasteners"}
    return HouseRollUp(
        strips=_strips(demand, specification),
        roll_length=specification.roll_length,
        sealant=Volume(sealant_pl),
        cartridges=cartridges_for(Volume(sealant_pl), specification),
        fasteners=_sum(demand, "fasteners"),
        screw=Length(max(screws)) if screws and 0 not in screws else None,
        corner_patches=_sum(demand, "piece", "corner patch"),
        pan_corners=_sum(demand, "piece", "pan corner"),
        rigid_pans=_sum(demand, "piece", "pan"),
        flap_tape=_length(demand, "tape"),
        foam=Volume(_sum(demand, "foam")),
        backer_rod=Length(_sum(demand, "rod")),
        shims=_sum(demand, "piece", "shims"),
        drip_cap=_length(demand, "stick"),
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
    for need, count in demand.items():
        if need.kind == "strip":
            lengths = widths.setdefault(need.size_nm, {})
            lengths[need.length_nm] = lengths.get(need.length_nm, 0) + count
    return dict(sorted(widths.items()))


def _strips(demand: Demand, specification: Specification) -> tuple[Strips, ...]:
    return tuple(
        Strips(
            width=Length(width_nm),
            length=Length(sum(length_nm * count for length_nm, count in lengths.items())),
            count=sum(lengths.values()),
            rolls=rolls_first_fit(lengths, roll=specification.roll_length, trim=specification.strip_trim),
        )
        for width_nm, lengths in strips_by_width(demand).items()
    )


def _sum(demand: Demand, kind: str, part: str | None = None) -> int:
    return sum(
        amount for need, amount in demand.items() if need.kind == kind and (part is None or need.part == part)
    )


def _length(demand: Demand, kind: str) -> Length:
    return Length(sum(need.length_nm * count for need, count in demand.items() if need.kind == kind))
