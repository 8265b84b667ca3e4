"""Why a week needs so much of a material, and why an order has so many packs: from opening to pack."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from types import MappingProxyType

from materials.catalogue.load import load_catalogue
from materials.catalogue.material import Material
from materials.convert import pack_name
from materials.models import Coverage, OrderLine, Price
from materials.ordering.lacking import Amount, total
from materials.selectors.demand import Key, OpeningDemand, amounts_of, only, week_demand
from materials.selectors.growth import amount_of
from materials.selectors.netting import net_openings
from materials.selectors.prices import market_today
from materials.selectors.telling import told_quantity
from openings.models import Opening
from projects.errors import NotThere
from projects.models import Company
from projects.quantities.length import Length
from projects.quantities.text import format_rounded

NOWHERE: Mapping[Key, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Share:
    """What one opening needs, or is covered for; `pieces` in words where it is cut, `source` where from."""

    opening: int
    house: str
    mark: str
    quantity: str
    pieces: str
    source: str
    day: date | None = None


@dataclass(frozen=True, slots=True)
class WhyNeed:
    """Why a week needs `needed` of a material, and what gives it."""

    material: Material
    week: date
    shares: tuple[Share, ...]
    needed: str
    stock: str
    ordered: str
    short: str
    stays: str
    losses: tuple[str, ...]
    lines: tuple[OrderLine, ...]


@dataclass(frozen=True, slots=True)
class WhyLine:
    """Why an order line has its packs: what it covers, what it has beyond, what one pack holds and costs."""

    line: OrderLine
    material: Material
    pack: str
    shares: tuple[Share, ...]
    covered: str
    beyond: str
    others: tuple[OrderLine, ...]
    holds: str
    bought: str
    left: str
    price: Price | None


def why_need(company: Company, week: date, key: str) -> WhyNeed:
    """Return why the week of `week` needs so much of the material `key`.

    Raises NotThere for what is no material.
    """
    demand = week_demand(company, week)
    own = only(demand.openings, {(each.opening, key) for each in demand.openings})
    material = load_catalogue().materials.get(key)
    if material is None:
        raise NotThere
    needs = amounts_of(own)
    # stock is shared out over all materials and days at once, so the whole week is netted
    netted = net_openings(company, demand.openings, market_today(company))
    lines = _covering(company, own, key)
    stays = netted.stays.get(key, 0)
    gives = [("stock", netted.kept), ("stock", netted.given), ("short", netted.lacking)]
    sources = {**_said(gives), **{(cover.opening_id, key): _number(cover) for cover in lines if cover.line}}
    return WhyNeed(
        material=material,
        week=demand.week,
        shares=tuple(
            _share(
                material,
                needs,
                whose=(each.opening, each.house, each.mark),
                sources=sources,
                day=each.needed,
            )
            for each in own
        ),
        needed=_sum(material, needs),
        stock=_sum(material, _of(key, netted.kept, netted.given)),
        ordered=_sum(material, _of(key, netted.ordered)),
        short=_sum(material, _of(key, netted.lacking)),
        stays=told_quantity(material.unit, stays) if stays else "",
        losses=tuple(
            told_quantity(material.unit, loss.quantity) for loss in netted.losses if loss.material == key
        ),
        lines=tuple({cover.line.pk: cover.line for cover in lines if cover.line}.values()),
    )


def why_line(line: OrderLine) -> WhyLine:
    """Return why an order line has its packs; the openings stand with the first line of their material."""
    company = line.company
    material = load_catalogue().materials.get(line.material)
    if material is None:
        raise NotThere
    same = OrderLine.objects.of(company).filter(order=line.order, material=line.material).order_by("position")
    covers = list(
        Coverage.objects.of(company)
        .filter(line__in=same)
        .select_related("opening__house")
        .order_by("opening__house__code", "opening__row", "opening_id")
    )
    amounts = {
        (cover.opening_id, cover.material): amount_of(cover.quantity, cover.pieces) for cover in covers
    }
    need, bought = sum(each.need for each in same), sum(each.packs * each.pack_size for each in same)
    covered = total(amounts.values()).quantity
    tell = partial(told_quantity, material.unit)
    return WhyLine(
        line=line,
        material=material,
        pack=pack_name(line),
        shares=tuple(
            _share(material, amounts, whose=(row.pk, row.house.code, row.mark)) for row in _openings(covers)
        ),
        covered=tell(covered),
        beyond=tell(need - covered) if need > covered else "",
        others=tuple(each for each in same if each.pk != line.pk),
        holds=tell(line.pack_size),
        bought=tell(bought),
        left=tell(bought - need) if bought > need else "",
        price=_price(line),
    )


def _openings(covers: Iterable[Coverage]) -> list[Opening]:
    return list({cover.opening_id: cover.opening for cover in covers}.values())


def _price(line: OrderLine) -> Price | None:
    """Return the price that the line was made with: that of its supplier's pack on the day it was drafted."""
    prices = Price.objects.of(line.company).filter(
        supplier=line.order.supplier_id, material=line.material, pack=line.pack
    )
    return prices.filter(valid_from__lte=line.order.created_at).order_by("-valid_from").first()


def _covering(company: Company, openings: Iterable[OpeningDemand], key: str) -> list[Coverage]:
    covers = Coverage.objects.of(company).filter(
        live=True, material=key, opening__in=[each.opening for each in openings]
    )
    return list(covers.select_related("line__order__supplier").order_by("line__order_id", "pk"))


def _number(cover: Coverage) -> str:
    order = cover.line.order if cover.line else None
    return f"order {order.number}" if order and order.number else "draft"


def _said(gives: Iterable[tuple[str, Mapping[Key, Amount]]]) -> dict[Key, str]:
    found: dict[Key, list[str]] = {}
    for name, amounts in gives:
        for key, amount in amounts.items():
            if amount.quantity and name not in found.setdefault(key, []):
                found[key].append(name)
    return {key: ", part ".join(names) for key, names in found.items()}


def _of(key: str, *amounts: Mapping[Key, Amount]) -> dict[Key, Amount]:
    found: dict[Key, list[Amount]] = {}
    for some in amounts:
        for whose, amount in some.items():
            if whose[1] == key:
                found.setdefault(whose, []).append(amount)
    return {whose: total(each) for whose, each in found.items()}


def _sum(material: Material, amounts: Mapping[Key, Amount]) -> str:
    quantity = sum((amount.quantity for (_, key), amount in amounts.items() if key == material.key), 0)
    return told_quantity(material.unit, quantity) if quantity else ""


def _share(
    material: Material,
    amounts: Mapping[Key, Amount],
    *,
    whose: tuple[int, str, str],
    sources: Mapping[Key, str] = NOWHERE,
    day: date | None = None,
) -> Share:
    opening, house, mark = whose
    amount = amounts[opening, material.key]
    told = ", ".join(
        f"{count} x {format_rounded(Length(length))}"
        for length, count in sorted(amount.pieces.items(), reverse=True)
    )
    return Share(
        opening=opening,
        house=house,
        mark=mark,
        quantity=told_quantity(material.unit, amount.quantity),
        pieces=told,
        source=sources.get((opening, material.key), ""),
        day=day,
    )
