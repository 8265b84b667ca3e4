"""What materials there are for a house: what came to it, was used, lies there; and what a crew could use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import Q, Sum

from materials.catalogue.load import load_catalogue
from materials.models import CutRoll, Movement, Place
from materials.selectors.orders import local_today
from projects.models import Company, House
from projects.quantities.length import Length
from projects.quantities.text import format_feet
from projects.selectors import row_of

AWAY = ("scrap", "return")
Kind = tuple[str, int]
"""A material's key and how many base units one piece of it holds: what is counted alike."""
TO_AND_FRO = ("receive", "move", "count", "correct")


@dataclass(frozen=True, slots=True)
class HouseLine:
    """What of one kind came to a house less what went elsewhere, and what became of it.

    Counted in pieces of `pack`, loose ones where it is empty; offcuts in nanometres.
    """

    material: str
    pack: str
    came: int
    used: int
    lost: int
    here: int

    @property
    def name(self) -> str:
        """Return material and pack as people know them."""
        material = load_catalogue().material(self.material)
        names = {pack.label.key: pack.label.name for pack in material.packs}
        return f"{material.name}, {names.get(self.pack, self.pack)}" if self.pack else material.name

    @property
    def cells(self) -> tuple[str, ...]:
        """Return came, used, lost and what lies there, as people say it."""
        is_offcut = not self.pack and load_catalogue().material(self.material).unit == "length"
        quantities = (self.came, self.used, self.lost, self.here)
        return tuple(format_feet(Length(each), nearest=1) if is_offcut else f"{each}" for each in quantities)


@dataclass(frozen=True, slots=True)
class CutFor:
    """The strips of one material that were cut for a house."""

    name: str
    strips: int
    length: str


@dataclass(frozen=True, slots=True)
class HousePage:
    """A house's materials."""

    house: House
    lines: tuple[HouseLine, ...]
    cut: tuple[CutFor, ...]


@dataclass(frozen=True, slots=True)
class ToUse:
    """A kind of piece that a crew has within reach, and how many it probably used. Sizes in base units."""

    material: str
    name: str
    piece: str
    piece_size: int
    within_reach: int
    proposed: int


def house_page(company: Company, pk: int) -> HousePage:
    """Return what came to a house and what became of it. Raises NotThere."""
    house = row_of(House, company, pk, "project")
    return HousePage(house, tuple(house_lines(company, house)), tuple(_cut_for(company, house)))


def house_lines(company: Company, house: House) -> Iterator[HouseLine]:
    """Yield each kind that ever was at the house, in catalogue order. One query."""
    rows = Movement.objects.of(company).filter(place__house=house).order_by()
    kinds = rows.values_list("lot__material", "lot__pack", "lot__piece_size", "kind")
    sums: dict[tuple[str, str], Counter[str]] = {}
    for material, pack, size, kind, total in kinds.annotate(total=Sum("quantity")):
        # every offcut has a size of its own
        pieces = total if not pack else total // size
        sums.setdefault((material, pack), Counter())[kind] += pieces
    order = list(load_catalogue().materials)
    for (material, pack), of in sorted(sums.items(), key=lambda pair: (order.index(pair[0][0]), pair[0][1])):
        yield HouseLine(
            material,
            pack,
            came=sum(of[kind] for kind in TO_AND_FRO),
            used=-of["use"],
            lost=-sum(of[kind] for kind in AWAY),
            here=sum(of.values()),
        )


def to_use(
    company: Company,
    house: House,
    *,
    truck: str,
    needed: Mapping[str, int],
    used: Mapping[Kind, int],
) -> tuple[ToUse, ...]:
    """Return what is within a crew's reach at a house, with what it probably used beyond `used`.

    `needed` is what its finished openings need by material, in base units; `used` counts pieces that are
    written down already. What is cut from rolls is not here: a roll is used up when it is cut.
    """
    left = dict(needed)
    found: list[ToUse] = []
    for row in _within_reach(company, house, truck):
        material = load_catalogue().material(row["lot__material"])
        size = row["lot__piece_size"]
        pieces = row["total"] // size
        if material.unit == "length" or not pieces:
            continue
        # the smallest piece of a material takes all of its need; the crew knows what it really opened
        wanted = -(-left.pop(material.key, 0) // size) - used.get((material.key, size), 0)
        names = {pack.label.key: pack.label.name for pack in material.packs}
        piece = names.get(row["lot__pack"], "piece")
        proposed = max(0, min(pieces, wanted))
        found.append(ToUse(material.key, material.name, piece, size, pieces, proposed))
    order = list(load_catalogue().materials)
    return tuple(sorted(found, key=lambda each: order.index(each.material)))


def _within_reach(company: Company, house: House, truck: str) -> list[Any]:
    """Return what lies at the house, on the truck or in the shop and is good today, by kind. One query."""
    today = local_today(company)
    reach = Q(house=house) | Q(kind="truck", name=truck) | Q(kind="shop")
    rows = Movement.objects.of(company).filter(place__in=Place.objects.of(company).filter(reach))
    good = rows.filter(Q(lot__last_good__isnull=True) | Q(lot__last_good__gte=today)).order_by()
    sums = good.values("lot__material", "lot__piece_size", "lot__pack").annotate(total=Sum("quantity"))
    return sorted(sums, key=lambda row: (row["lot__material"], row["lot__piece_size"]))


def used_pieces(lines: Collection[Movement]) -> Counter[Kind]:
    """Return how many pieces of which kind these lines used up; their lots are fetched."""
    found = Counter[Kind]()
    for line in lines:
        if line.kind == "use":
            found[line.lot.material, line.lot.piece_size] += -line.quantity // line.lot.piece_size
    return found


def _cut_for(company: Company, house: House) -> Iterator[CutFor]:
    openings = set(house.openings.values_list("pk", flat=True))
    rolls = CutRoll.objects.of(company).filter(cut_at__isnull=False).values_list("material", "strips")
    strips, length = Counter[str](), Counter[str]()
    for material, cut in rolls:
        own = [strip for strip in cut if strip["opening"] in openings]
        strips[material] += len(own)
        length[material] += sum(strip["length"] for strip in own)
    for key, of in load_catalogue().materials.items():
        if strips[key]:
            yield CutFor(of.name, strips[key], format_feet(Length(length[key]), nearest=1))
