"""What openings need becomes what is put on the truck, in words; no query here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from crews.convert.words import counted
from crews.dayplan.sheet import LoadLine
from materials.catalogue.load import load_catalogue
from materials.catalogue.material import Material
from materials.catalogue.meet import MaterialNeed
from materials.catalogue.packaging import Packaging
from materials.selectors.demand import MaterialDemand
from openings.takeoff.specification import Specification
from projects.quantities.length import Length
from projects.quantities.text import format_feet

# Of each width cut from rolls one spare piece of the longest goes along (field guide 4, C).
SPARES = 1


def load_lines(demands: Iterable[MaterialDemand], specification: Specification) -> tuple[LoadLine, ...]:
    """Return a line per material, in catalogue order: rolls, tubes, cans and pieces, each rounded up once."""
    return tuple(_line(each, specification) for each in demands)


def _line(demand: MaterialDemand, specification: Specification) -> LoadLine:
    material = load_catalogue().material(demand.material)
    if demand.pieces:
        return _cut(material, demand, specification)
    if material.unit == "pieces":
        return LoadLine(material.name, f"{demand.quantity}", "")
    pack = single_pack(material)
    packs = MaterialNeed(material, demand.quantity).packs(pack)
    return LoadLine(material.name, _counted(packs, pack), "with the usual waste" if _wastes(material) else "")


def _cut(material: Material, demand: MaterialDemand, specification: Specification) -> LoadLine:
    pieces = dict(demand.pieces)
    longest = max(pieces)
    pieces[longest] += SPARES
    pack = _roll_for(material, specification, longest)
    together = format_feet(Length(demand.quantity), nearest=1)
    spare = format_feet(Length(longest), nearest=2)
    why = f"{counted(sum(demand.pieces.values()), 'piece')}, {together} together, and 1 spare of {spare}"
    return LoadLine(material.name, _counted(MaterialNeed(material, 0, pieces).packs(pack), pack), why)


def _roll_for(material: Material, specification: Specification, longest: int) -> Packaging:
    """Return the company's usual roll where it is sold and the longest piece fits, else the next."""
    fitting = sorted(
        (pack for pack in material.packs if pack.contains >= longest), key=lambda pack: pack.contains
    )
    usual = [pack for pack in fitting if pack.contains == specification.roll_length.nm]
    return (usual or fitting or [max(material.packs, key=lambda pack: pack.contains)])[0]


def single_pack(material: Material) -> Packaging:
    """Return the smallest pack: a tube, not a case of them."""
    return min(material.packs, key=lambda pack: pack.contains)


def _counted(packs: int, pack: Packaging) -> str:
    """Return packs in words: 3 rolls of 75 ft."""
    noun, _, rest = pack.label.name.partition(" ")
    plural = noun if packs == 1 else _PLURALS.get(noun, f"{noun}s")
    return f"{packs} {plural} {rest}".strip()


def _wastes(material: Material) -> bool:
    return material.meets == "sealant"


_PLURALS: Mapping[str, str] = {"box": "boxes"}
