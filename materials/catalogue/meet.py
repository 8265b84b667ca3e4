"""Which materials meet what a takeoff needs, and how much of each, waste included. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from materials.catalogue.first_fit import rolls_first_fit
from materials.catalogue.material import Catalogue, Material
from materials.catalogue.packaging import Packaging, packs_for
from openings.takeoff.demand import Demand, Need
from openings.takeoff.specification import Specification
from projects.problems import Problem
from projects.quantities.length import Length
from projects.quantities.text import format_length
from projects.quantities.volume import Area

WORDS: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        ("strip", "sill strip"): "membrane",
        ("strip", "pan"): "membrane",
        ("strip", "stretch pan"): "stretch membrane",
        ("strip", "jamb strip"): "membrane",
        ("strip", "over-fin strip"): "membrane",
        ("strip", "head strip"): "membrane",
        ("tape", "flap tape"): "wrb tape",
        ("sealant", "hinge bead"): "sealant",
        ("sealant", "back bead"): "sealant",
        ("sealant", "face bead"): "sealant",
        ("sealant", "inside bead"): "sealant",
        ("fasteners", "fasteners"): "screws",
        ("piece", "pan"): "rigid pan",
        ("piece", "pan corner"): "pan corner",
        ("piece", "corner patch"): "corner patch",
        ("piece", "shims"): "shims",
        ("stick", "drip cap"): "drip cap",
        ("foam", "foam"): "foam",
        ("rod", "backer rod"): "backer rod",
    }
)
"""Which word of the catalogue each part of the takeoff asks for."""

PANS = frozenset({"pan", "stretch pan"})
"""A pan is one piece, whatever a company allows: a joint in it leaks (field practice, grade C)."""


@dataclass(frozen=True, slots=True)
class MaterialNeed:
    """How much of a material: `quantity` in its own unit, waste included.

    `pieces` count what is cut from rolls or sticks by length in nanometres, trim included; their sum is
    `quantity`. `pans` count those of them that nobody may splice. Nothing is rounded to packs here.
    """

    material: Material
    quantity: int
    pieces: Mapping[int, int] = field(default_factory=dict)
    pans: Mapping[int, int] = field(default_factory=dict)

    def packs(self, packaging: Packaging) -> int:
        """Return how many packs are needed: cut pieces first-fit-decreasing, all else rounded up once.

        Raises BadValue where a piece is longer than a roll or stick.
        """
        if not self.pieces:
            return packs_for(self.quantity, packaging)
        return rolls_first_fit(self.pieces, roll=Length(packaging.contains), trim=Length(0))


@dataclass(frozen=True, slots=True)
class Met:
    """What a demand comes to in materials, in catalogue order; `problems` name what nothing meets."""

    needs: tuple[MaterialNeed, ...]
    problems: tuple[Problem, ...]


def meet_demand(demand: Demand, specification: Specification, catalogue: Catalogue) -> Met:
    """Return the materials that `demand` needs together, for one house or one order."""
    amounts: dict[str, int] = {}
    pieces: dict[str, dict[int, int]] = {}
    pans: dict[str, dict[int, int]] = {}
    unmet: dict[str, Need] = {}
    for need, amount in demand.items():
        material = material_for(need, catalogue)
        if material is None:
            unmet.setdefault(_wanted(need), need)
            continue
        cut = cut_length(need, specification)
        if cut is not None:
            for found in (pieces, pans) if need.part in PANS else (pieces,):
                of_material = found.setdefault(material.key, {})
                of_material[cut.nm] = of_material.get(cut.nm, 0) + amount
        quantity = amount if cut is None else amount * cut.nm
        amounts[material.key] = amounts.get(material.key, 0) + quantity
    needs = tuple(
        MaterialNeed(
            material,
            _with_waste(material, amounts[key], specification),
            MappingProxyType(pieces.get(key, {})),
            MappingProxyType(pans.get(key, {})),
        )
        for key, material in catalogue.materials.items()
        if amounts.get(key)
    )
    return Met(needs, tuple(_problem(wanted) for wanted in unmet))


def material_for(need: Need, catalogue: Catalogue) -> Material | None:
    """Return the material that meets `need`, None where the catalogue has none of its size."""
    word = WORDS.get((need.kind, need.part))
    return None if word is None else catalogue.met_by(word, _size(need))


def primer_need(area: Area, catalogue: Catalogue) -> MaterialNeed | None:
    """Return the primer for strips of `area`, None where the catalogue has none."""
    primer = catalogue.met_by("primer")
    return None if primer is None else MaterialNeed(primer, primer.volume_on(area).pl)


def cut_length(need: Need, specification: Specification) -> Length | None:
    """Return how long a piece is cut, trim included; None where nothing is cut by the piece."""
    if need.kind == "strip":
        return Length(need.length_nm) + specification.strip_trim
    return Length(need.length_nm) if need.kind in ("tape", "stick") else None


def _size(need: Need) -> Length | None:
    return Length(need.size_nm) if need.kind in ("strip", "tape", "fasteners", "rod") else None


def _with_waste(material: Material, quantity: int, specification: Specification) -> int:
    if material.meets != "sealant":
        return quantity
    return -(-quantity * (1 + specification.sealant_waste) // 1)


def _wanted(need: Need) -> str:
    size = _size(need)
    return need.part if size is None or not size else f"{need.part} {format_length(size)}"


def _problem(wanted: str) -> Problem:
    return Problem(
        f"The catalogue has nothing for {wanted}.",
        "Add the material, or change the setting that asks for it.",
    )
