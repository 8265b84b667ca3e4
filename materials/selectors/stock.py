"""What lies in stock, as pages show it: by material and place, with what expires, and each lot's ledger."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Exists, OuterRef, Sum

from materials.catalogue.counting import counted_in, told_count
from materials.catalogue.load import load_catalogue
from materials.catalogue.material import Material
from materials.exchange.table import Table, Value
from materials.models import Lot, MinimumLevel, Movement, NeedDate, OrderEvent, Place, PurchaseOrder
from materials.ordering.states import ENDED
from materials.selectors.orders import local_today
from materials.selectors.telling import told_quantity
from projects.models import Company, House
from projects.quantities.length import Length
from projects.quantities.text import format_feet

SOON = timedelta(days=14)
COLUMNS = ("material", "lot", "last good day", "standing", "place", "pack", "pieces", "counted")
STANDINGS = {"past": "past its last good day", "soon": "soon past", "": ""}


@dataclass(frozen=True, slots=True)
class Heap:
    """What of one lot lies at one place."""

    place: Place
    pieces: int
    told: str


@dataclass(frozen=True, slots=True)
class LotShown:
    """A lot as people know it. `standing`: past its last good day, soon past it, or empty for good."""

    row: Lot
    name: str
    number: str
    heaps: tuple[Heap, ...]
    standing: str
    pack: str


@dataclass(frozen=True, slots=True)
class MaterialShown:
    """A material in stock; `minimum` is how much has to stay, `is_below` whether less is there and good."""

    key: str
    name: str
    lots: tuple[LotShown, ...]
    total: str
    minimum: str
    is_below: bool


@dataclass(frozen=True, slots=True)
class StockPage:
    """What lies there, the orders of which something is to come, and the next days that have strips cut."""

    materials: tuple[MaterialShown, ...]
    to_come: tuple[PurchaseOrder, ...]
    days: tuple[date, ...]
    today: date


@dataclass(frozen=True, slots=True)
class LineShown:
    """One line of a lot's ledger in words: `moved`, and what lies there `after` it."""

    row: Movement
    moved: str
    after: str


@dataclass(frozen=True, slots=True)
class LotPage:
    """One lot with its ledger, newest line first."""

    lot: LotShown
    lines: tuple[LineShown, ...]
    order: PurchaseOrder | None

    @property
    def places(self) -> list[Place]:
        """Return where the lot lies or lay, each once, last named first."""
        return list({line.row.place_id: line.row.place for line in self.lines}.values())


def stock_page(company: Company) -> StockPage:
    """Return everything that lies anywhere, in catalogue order, first to expire first."""
    today = local_today(company)
    levels = {row.material: row.quantity for row in MinimumLevel.objects.of(company)}
    lots: dict[str, list[LotShown]] = {}
    for lot in lots_shown(company):
        lots.setdefault(lot.row.material, []).append(lot)
    return StockPage(
        materials=tuple(
            _material(key, lots.get(key, []), levels.get(key, 0))
            for key in load_catalogue().materials
            if key in lots or key in levels
        ),
        to_come=tuple(orders_to_come(company)),
        days=tuple(_days_to_cut(company, today)),
        today=today,
    )


def level_of(company: Company, material: str) -> int:
    """Return how much of a material must stay, in base units; 0 without a minimum."""
    row = MinimumLevel.objects.of(company).filter(material=material).first()
    return row.quantity if row else 0


def stock_table(page: StockPage) -> Table:
    """Return a row for each heap, and one for a material that must be there and is not."""
    return Table("Stock", COLUMNS, tuple(row for material in page.materials for row in _rows(material)))


def lots_shown(company: Company, *, lot: int | None = None, place: Place | None = None) -> list[LotShown]:
    """Return the lots of which something is left, first to expire first; or the one with the key `lot`."""
    rows = Movement.objects.of(company).order_by()
    rows = rows.filter(lot=lot) if lot else rows
    rows = rows.filter(place=place) if place else rows
    heaps: dict[int, dict[int, int]] = {}
    for of, at, total in rows.values_list("lot", "place").annotate(total=Sum("quantity")):
        if total:
            heaps.setdefault(of, {})[at] = total
    today = local_today(company)
    places = {row.pk: row for row in Place.objects.of(company)}
    found = Lot.objects.of(company).filter(pk__in=[lot] if lot else heaps)
    return [_lot(row, heaps.get(row.pk, {}), places, today) for row in found.select_related("line__order")]


def lot_page(company: Company, lot: Lot) -> LotPage:
    """Return a lot's whole ledger."""
    (shown,) = lots_shown(company, lot=lot.pk)
    rows = Movement.objects.of(company).filter(lot=lot).select_related("place", "by").order_by("-id")
    lines = tuple(
        LineShown(row, _signed(shown.row, row.quantity), _told(shown.row, row.balance)) for row in rows
    )
    return LotPage(shown, lines, shown.row.line.order if shown.row.line else None)


def orders_to_come(company: Company) -> Sequence[PurchaseOrder]:
    """Return the issued orders of which something is to come, the first that is due first."""
    ended = OrderEvent.objects.of(company).filter(order=OuterRef("pk"), kind__in=ENDED)
    rows = PurchaseOrder.objects.of(company).filter(number__isnull=False).exclude(Exists(ended))
    return list(rows.select_related("supplier").order_by("deliver_by", "pk"))


def places_of(company: Company) -> list[Place]:
    """Return the places where something has lain, the shop last named first."""
    return list(Place.objects.of(company).select_related("house"))


def shop_of(company: Company) -> Place | None:
    """Return the company's shop; None as long as nothing was ever put there."""
    return Place.objects.of(company).filter(kind="shop").first()


def houses_of(company: Company) -> Sequence[House]:
    """Return the houses that are being worked on, by code."""
    return list(House.objects.of(company).filter(archived=False, project__archived=False).order_by("code"))


def _rows(material: MaterialShown) -> Iterator[tuple[Value, ...]]:
    if not material.lots:
        yield (material.name, "", None, "", "", "", 0, None)
    for lot in material.lots:
        for heap in lot.heaps:
            what = (material.name, lot.number, lot.row.last_good, STANDINGS[lot.standing])
            yield (*what, str(heap.place), lot.pack, heap.pieces, None)


def _days_to_cut(company: Company, today: date) -> list[date]:
    rows = NeedDate.objects.of(company).filter(date__gte=today, date__lt=today + SOON)
    days = rows.filter(elevation__house__archived=False).order_by("date").values_list("date", flat=True)
    return list(days.distinct())


def _material(key: str, lots: list[LotShown], level: int) -> MaterialShown:
    material = load_catalogue().material(key)
    there = sum(heap.pieces * lot.row.piece_size for lot in lots for heap in lot.heaps)
    good = sum(
        heap.pieces * lot.row.piece_size for lot in lots if lot.standing != "past" for heap in lot.heaps
    )
    return MaterialShown(
        key=key,
        name=material.name,
        lots=tuple(lots),
        total=_in_packs(material, there) if there else "",
        minimum=_in_packs(material, level) if level else "",
        is_below=good < level,
    )


def _in_packs(material: Material, quantity: int) -> str:
    """Return a quantity in feet, or in the smallest thing that is counted, rounded down."""
    if material.unit == "length":
        return told_quantity(material.unit, quantity)
    smallest = min(material.packs, key=lambda pack: pack.contains)
    pack, size = counted_in(smallest)
    return told_count(material, pack, quantity // size)


def _lot(row: Lot, heaps: dict[int, int], places: dict[int, Place], today: date) -> LotShown:
    soon = row.last_good is not None and row.last_good < today + SOON
    past = row.last_good is not None and row.last_good < today
    return LotShown(
        row=row,
        name=load_catalogue().material(row.material).name,
        number=row.number or "no number",
        heaps=tuple(
            Heap(places[place], quantity // row.piece_size, _told(row, quantity))
            for place, quantity in sorted(heaps.items())
        ),
        standing="past" if past else "soon" if soon else "",
        pack=_pack(row),
    )


def _pack(lot: Lot) -> str:
    material = load_catalogue().material(lot.material)
    if not lot.pack:
        return f"offcut of {format_feet(Length(lot.piece_size))}" if material.unit == "length" else "piece"
    return {pack.label.key: pack.label.name for pack in material.packs}.get(lot.pack, lot.pack)


def _told(lot: Lot, quantity: int) -> str:
    material, pieces = load_catalogue().material(lot.material), quantity // lot.piece_size
    if material.unit == "length" and not lot.pack:
        return f"{pieces} x offcut of {format_feet(Length(lot.piece_size))}"
    return told_count(material, lot.pack, pieces)


def _signed(lot: Lot, quantity: int) -> str:
    return f"{'+' if quantity > 0 else '−'}{_told(lot, abs(quantity))}"
