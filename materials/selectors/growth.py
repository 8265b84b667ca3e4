"""What an order's openings need now, against what this order and others cover of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import timedelta

from django.db.models import OuterRef, Subquery, Sum

from materials.models import Coverage, OrderLine, PurchaseOrder
from materials.ordering.buying import Wanted
from materials.ordering.lacking import NOTHING, Amount, lacking, total
from materials.ordering.orders import Difference, differences
from materials.selectors.demand import (
    Key,
    OpeningDemand,
    amounts_of,
    by_material,
    only,
    pans_in,
    planned_demand,
)
from projects.models import Company

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Covered:
    """One opening's demand for one material as one order covers it; as stock does where `order` is None."""

    key: Key
    order: int | None
    round: int
    amount: Amount


@dataclass(frozen=True, slots=True)
class Growth:
    """What the openings of an order need now beyond what it and others cover.

    `lacking` is by opening and material, `had` what is covered of the same, `wanted` what must be bought for
    it. `is_stale`: what the order itself covers is not what it would cover if it were made now.
    """

    openings: tuple[OpeningDemand, ...]
    differences: tuple[Difference, ...]
    wanted: tuple[Wanted, ...]
    lacking: Mapping[Key, Amount]
    had: Mapping[Key, Amount]
    rounds: Mapping[Key, int]
    is_stale: bool


def growth_of(order: PurchaseOrder, *, anew: bool = False) -> Growth:
    """Return how the need of an order's openings differs from what is covered.

    `anew`: as if the order itself covered nothing, which is what an order in its place has to bring.
    """
    covers = covers_beside(order)
    own = {cover.key: cover.amount for cover in covers if cover.order == order.pk}
    others = _folded(cover for cover in covers if cover.order != order.pk)
    counted = [cover for cover in covers if cover.order != order.pk] if anew else covers
    had = _folded(counted)
    needed = (order.deliver_by or order.week) + ONE_DAY
    demand = planned_demand(order.company, {opening for opening, _ in own}, needed)
    need = amounts_of(demand)
    lacks = {key: lacking(amount, had.get(key, NOTHING)) for key, amount in need.items()}
    lacks = {key: amount for key, amount in lacks.items() if amount.quantity}
    return Growth(
        openings=demand,
        differences=_differences(need, had, lacks),
        wanted=_wanted(demand, had=had, lacks=lacks, spare=_spare(order.company, counted)),
        lacking=lacks,
        had=had,
        rounds={cover.key: cover.round for cover in sorted(covers, key=lambda cover: cover.round)},
        is_stale=any(
            lacking(need.get(key, NOTHING), others.get(key, NOTHING)) != amount for key, amount in own.items()
        ),
    )


def covers_beside(order: PurchaseOrder) -> tuple[Covered, ...]:
    """Return what live orders and drafts cover of the openings that `order` is for, its own included.

    A draft that changes another order covers in its place.
    """
    live = Coverage.objects.of(order.company).filter(live=True)
    if order.changes_id and order.number is None:
        live = live.exclude(line__order=order.changes_id) | Coverage.objects.of(order.company).filter(
            line__order=order
        )
    openings = live.filter(line__order=order).values("opening")
    rows = live.filter(opening__in=openings).values_list(
        "opening", "material", "line__order", "round", "quantity", "pieces"
    )
    return tuple(
        Covered((opening, material), of_order, round_, amount_of(quantity, pieces))
        for opening, material, of_order, round_, quantity, pieces in rows
    )


def amount_of(quantity: int, pieces: Mapping[str, int]) -> Amount:
    """Return a stored amount; JSON has made the lengths of its pieces into text."""
    return Amount(quantity, {int(length): count for length, count in pieces.items()})


def _folded(covers: Iterable[Covered]) -> dict[Key, Amount]:
    found: dict[Key, list[Amount]] = {}
    for cover in covers:
        found.setdefault(cover.key, []).append(cover.amount)
    return {key: total(amounts) for key, amounts in found.items()}


def _differences(
    need: Mapping[Key, Amount], had: Mapping[Key, Amount], lacks: Mapping[Key, Amount]
) -> tuple[Difference, ...]:
    to_cut = {key: amount for key, amount in lacks.items() if amount.pieces}
    return differences(_by_material(had).items(), _by_material(need), _by_material(to_cut))


def _by_material(amounts: Mapping[Key, Amount]) -> Counter[str]:
    found: Counter[str] = Counter()
    for (_, material), amount in amounts.items():
        found[material] += amount.quantity
    return found


def _spare(company: Company, covers: Iterable[Covered]) -> Counter[str]:
    """Return what the packs of these orders hold beyond what they cover, by material.

    It is below 0 where some openings were given what others no longer needed.
    """
    orders = {cover.order for cover in covers if cover.order is not None}
    spare: Counter[str] = Counter()
    lines = OrderLine.objects.of(company).filter(order__in=orders).annotate(covered=_covered(company))
    for line in lines.values("material", "packs", "pack_size", "covered"):
        spare[line["material"]] += line["packs"] * line["pack_size"] - (line["covered"] or 0)
    return spare


def _covered(company: Company) -> Subquery:
    """Return how much of an order line covers openings now, for a query of lines."""
    live = Coverage.objects.of(company).filter(line=OuterRef("pk"), live=True).order_by()
    return Subquery(live.values("line").annotate(covered=Sum("quantity")).values("covered"))


def _wanted(
    demand: tuple[OpeningDemand, ...],
    *,
    had: Mapping[Key, Amount],
    lacks: Mapping[Key, Amount],
    spare: Mapping[str, int],
) -> tuple[Wanted, ...]:
    """Return what to buy: cut material by the pieces that lack, all else beyond what the packs still hold."""
    to_cut: dict[str, list[Amount]] = {}
    for (_, material), amount in lacks.items():
        if amount.pieces:
            to_cut.setdefault(material, []).append(amount)
    ordered, needed = _by_material(had), _by_material(amounts_of(demand))
    pans = pans_in(demand, lacks)
    wanted = []
    for each in by_material(only(demand, lacks.keys())):
        if each.material in to_cut:
            amount = total(to_cut[each.material])
            wanted.append(
                Wanted(each.material, each.needed, amount.quantity, amount.pieces, pans[each.material])
            )
            continue
        beyond = needed[each.material] - ordered[each.material] - spare.get(each.material, 0)
        if beyond > 0:
            wanted.append(Wanted(each.material, each.needed, beyond))
    return tuple(wanted)
