"""What there is to cut for a house or a day, and from which rolls."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.db.models import Q, Sum

from materials.catalogue.load import load_catalogue
from materials.cutlist.rolls import Source
from materials.cutlist.strips import Opening, Strip, strips_of
from materials.models import Coverage, CutList, CutRoll, Lot, Movement, NeedDate, OrderLine, Place
from materials.ordering.buying import Market
from materials.ordering.problem import Pack
from materials.selectors.supply import received_of
from openings.convert import COLUMNS, input_of_columns
from openings.selectors import live_openings, specifications_in_force
from openings.takeoff.compute import take_off_house
from projects.models import Company, House

Kept = Mapping[str, str | int]
"""One strip as a cut roll keeps it."""


@dataclass(frozen=True, slots=True)
class InStock:
    """Rolls of one lot at one place that no other list counts on."""

    lot: Lot
    place: Place
    pieces: int

    @property
    def name(self) -> str:
        """Return a name that no other heap has."""
        return f"lot {self.lot.pk} at {self.place.pk}"


def kept(strip: Strip) -> dict[str, str | int]:
    """Return the strip as a cut roll keeps it."""
    told: dict[str, str | int] = {
        "opening": strip.opening.key,
        "house": strip.opening.house,
        "mark": strip.opening.mark,
        "part": strip.part,
        "zone": strip.zone,
        "length": strip.length,
    }
    return told | {"number": strip.number, "whole": strip.whole, "lap": strip.lap} if strip.number else told


def strips_to_cut(cut_list: CutList) -> dict[str, list[Strip]]:
    """Return what the list's openings still have cut, by material, in walking order.

    What any list has cut already is left out; of a spliced strip the half that was cut.
    """
    found = _strips(cut_list)
    done = _done(cut_list.company, {strip.opening.house for strips in found.values() for strip in strips})
    left: dict[str, list[Strip]] = {}
    for material, strips in found.items():
        for strip in strips:
            cut = done.get((material, *_key(kept(strip))), [])
            half = cut.pop() if cut else None
            if half is None:
                left.setdefault(material, []).append(strip)
            elif half["whole"]:
                length, number, lap = (int(half[name]) for name in ("length", "number", "lap"))
                cut_half = replace(strip, length=length, number=number, whole=strip.length, lap=lap)
                left.setdefault(material, []).append(cut_half.other())
    return left


def is_stale(cut_list: CutList, rolls: Sequence[CutRoll], to_cut: Mapping[str, Sequence[Strip]]) -> bool:
    """Return whether the openings want other strips, `to_cut`, than the rolls that are still to cut."""
    planned: Counter[tuple[str | int, ...]] = Counter()
    for roll in rolls:
        if roll.cut_at is None:
            planned.update({(roll.material, *key): halves for key, halves in _halves(roll.strips).items()})
    wanted: Counter[tuple[str | int, ...]] = Counter()
    for material, strips in to_cut.items():
        halves_of = _halves(kept(strip) for strip in strips)
        wanted.update({(material, *key): halves for key, halves in halves_of.items()})
    unlaid = {problem["material"] for problem in cut_list.problems}
    return planned != Counter({key: count for key, count in wanted.items() if key[0] not in unlaid})


def stock_to_cut(cut_list: CutList, today: date) -> dict[str, list[InStock]]:
    """Return the rolls and offcuts in the shop and on trucks that are good on the list's day, by material.

    What other lists count on, a day's until that day has passed, is theirs. An order's list has what came of
    the order.
    """
    company = cut_list.company
    own = Movement.objects.of(company)
    if cut_list.order_id:
        own = own.filter(lot__line__order=cut_list.order_id)
    rows = (
        own.exclude(place__kind="house")
        .filter(lot__material__in=_cut_materials())
        .order_by()
        .values_list("lot", "place")
        .annotate(total=Sum("quantity"))
        .filter(total__gt=0)
    )
    heaps = {(lot, place): total for lot, place, total in rows}
    lots = Lot.objects.of(company).in_bulk({lot for lot, _ in heaps})
    places = Place.objects.of(company).in_bulk({place for _, place in heaps})
    others = _counted_on(cut_list, today)
    day = max(cut_list.day or today, today)
    found: dict[str, list[InStock]] = {}
    for (lot, place), total in sorted(heaps.items()):
        row = lots[lot]
        pieces = total // row.piece_size - others[lot, place]
        if pieces > 0 and (row.last_good is None or row.last_good >= day):
            found.setdefault(row.material, []).append(InStock(row, places[place], pieces))
    return found


def sources_of(material: str, heaps: Sequence[InStock], market: Market) -> list[Source]:
    """Return what strips of a material may be cut from: what lies there, and every roll on sale.

    A roll on the shelf is worth what such a roll costs today, an offcut nothing.
    """
    cheapest = {pack.size: pack for pack in _cheapest(material, market)}
    least = min((pack.price.cents / pack.size for pack in cheapest.values()), default=0)
    here = [
        Source(
            heap.name,
            heap.lot.piece_size,
            cheapest[heap.lot.piece_size].price.cents
            if heap.lot.piece_size in cheapest
            else round(least * heap.lot.piece_size),
            heap.pieces,
            is_offcut=not heap.lot.pack,
        )
        for heap in heaps
    ]
    return [*here, *(Source(pack.name, size, pack.price.cents, None) for size, pack in cheapest.items())]


def sources_of_order(cut_list: CutList, material: str, heaps: Sequence[InStock]) -> list[Source]:
    """Return what strips of a material may be cut from: the order's rolls that came, and those to come."""
    lines = list(
        OrderLine.objects.of(cut_list.company)
        .filter(order=cut_list.order_id, material=material)
        .order_by("position")
    )
    came = received_of(cut_list.company, [line.pk for line in lines])
    prices = {line.pack_size: line.unit_price_cents for line in lines}
    return [
        *(
            Source(heap.name, heap.lot.piece_size, prices.get(heap.lot.piece_size, 0), heap.pieces)
            for heap in heaps
        ),
        *(
            Source(line.pack, line.pack_size, line.unit_price_cents, to_come)
            for line in lines
            for to_come in [line.packs - came[line.pk] // line.pack_size]
            if to_come > 0
        ),
    ]


def _cheapest(material: str, market: Market) -> Iterator[Pack]:
    """Yield the cheapest pack of each length."""
    packs = [pack for packs in market.offers(material).values() for pack in packs]
    for size in sorted({pack.size for pack in packs}):
        yield min((pack for pack in packs if pack.size == size), key=lambda pack: (pack.price, pack.supplier))


def _strips(cut_list: CutList) -> dict[str, list[Strip]]:
    """Return all strips of the list's openings, cut or not."""
    company = cut_list.company
    openings = live_openings(company).filter(house__archived=False)
    covered = _covered(cut_list)
    if cut_list.order_id:
        openings = openings.filter(pk__in={opening for opening, _ in covered})
    elif cut_list.day is None:
        openings = openings.filter(house=cut_list.house_id)
    else:
        faces = NeedDate.objects.of(company).filter(date=cut_list.day)
        openings = openings.filter(elevation__in=faces.values("elevation"))
    rows = list(openings.values("id", "house_id", *COLUMNS))
    wanted = {row["house_id"] for row in rows}
    houses = House.objects.of(company).filter(pk__in=wanted).select_related("project__company")
    in_force = specifications_in_force(list({house.project for house in houses}))
    found: dict[str, list[Strip]] = {}
    for house in sorted(houses, key=lambda house: house.code):
        of_house = [row for row in rows if row["house_id"] == house.pk]
        specification = in_force[house.project_id].specification
        keys = {row["mark"]: row["id"] for row in of_house}
        for each in take_off_house([input_of_columns(row) for row in of_house], specification).openings:
            mark = each.opening.mark
            opening = Opening(keys[mark], house.code, mark)
            for material, strip in strips_of(opening, each.lines, specification, load_catalogue()):
                found.setdefault(material, []).append(strip)
    return _only_of(covered, found) if cut_list.order_id else found


def _covered(cut_list: CutList) -> dict[tuple[int, str], Counter[int]]:
    """Return the strips that an order's lines cover, by opening and material; none for other lists."""
    if not cut_list.order_id:
        return {}
    rows = Coverage.objects.of(cut_list.company).filter(line__order=cut_list.order_id, live=True)
    return {
        (opening, material): Counter({int(length): count for length, count in pieces.items()})
        for opening, material, pieces in rows.values_list("opening", "material", "pieces")
        if pieces
    }


def _only_of(
    covered: Mapping[tuple[int, str], Counter[int]], strips: Mapping[str, Sequence[Strip]]
) -> dict[str, list[Strip]]:
    """Return the strips that an order covers; it covers so many of each length of an opening."""
    left = {key: Counter(lengths) for key, lengths in covered.items()}
    found: dict[str, list[Strip]] = {}
    for material, strip in ((material, strip) for material, some in strips.items() for strip in some):
        lengths = left.get((strip.opening.key, material), Counter())
        if lengths[strip.length]:
            lengths[strip.length] -= 1
            found.setdefault(material, []).append(strip)
    return found


def _done(company: Company, houses: set[str]) -> dict[tuple[str | int, ...], list[Kept]]:
    """Return what was cut by strip: those in one piece, both halves as one, and halves alone."""
    rolls = CutRoll.objects.of(company).filter(cut_at__isnull=False)
    rolls = rolls.filter(Q(cut_list__house__code__in=houses) | Q(cut_list__house__isnull=True))
    found: dict[tuple[str | int, ...], list[Kept]] = {}
    for material, strips in rolls.values_list("material", "strips"):
        for strip in strips:
            found.setdefault((material, *_key(strip)), []).append({"whole": 0, **strip})
    return {key: _joined(strips) for key, strips in found.items()}


def _joined(strips: Sequence[Kept]) -> list[Kept]:
    """Return one strip for each two halves that belong together, last; halves alone first."""
    halves = [
        [strip for strip in strips if strip["whole"] and strip["number"] == number] for number in (1, 2)
    ]
    both = min(len(some) for some in halves)
    alone = [half for some in halves for half in some[both:]]
    return [
        *alone,
        *({**half, "whole": 0} for half in halves[0][:both]),
        *(strip for strip in strips if not strip["whole"]),
    ]


def _halves(strips: Iterable[Kept]) -> Counter[tuple[str | int, ...]]:
    """Return how often each strip is there, counted in halves."""
    counted: Counter[tuple[str | int, ...]] = Counter()
    for strip in strips:
        counted[_key(strip)] += 1 if strip.get("whole") else 2
    return counted


def _key(strip: Kept) -> tuple[str | int, ...]:
    return strip["opening"], strip["part"], strip["zone"], strip.get("whole") or strip["length"]


def _counted_on(cut_list: CutList, today: date) -> Counter[tuple[int, int]]:
    rolls = CutRoll.objects.of(cut_list.company).filter(cut_at__isnull=True, lot__isnull=False)
    rolls = rolls.exclude(cut_list__day__lt=today)
    if cut_list.pk:
        rolls = rolls.exclude(cut_list=cut_list)
    return Counter(rolls.values_list("lot", "place"))


def _cut_materials() -> list[str]:
    return [key for key, material in load_catalogue().materials.items() if material.unit == "length"]
