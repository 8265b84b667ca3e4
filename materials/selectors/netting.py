"""What openings lack once stock and open deliveries have given what they can."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.ordering.buying import Market, Wanted
from materials.ordering.lacking import NOTHING, Amount, lacking, total
from materials.ordering.plan import Loss, Shortage
from materials.ordering.problem import Demand
from materials.ordering.sharing import share_out
from materials.ordering.shelf import Strips, cut_from_shelf
from materials.selectors.demand import Key, OpeningDemand, amounts_of, by_material, only, pans_in
from materials.selectors.supply import Promise, Shelf, shelf_of
from projects.models import Company


@dataclass(frozen=True, slots=True)
class Netted:
    """What openings get, by opening and material, and what is to be bought for the rest.

    `ordered` stands on order lines, `kept` was promised from stock before, `given` stock gives now; `lacking`
    is what none of them gives. `broken` are promises that stock can no longer keep. `stays` is how much of
    each material has to stay.
    """

    ordered: Mapping[Key, Amount]
    kept: Mapping[Key, Amount]
    given: Mapping[Key, Amount]
    lacking: Mapping[Key, Amount]
    broken: frozenset[Key]
    wanted: tuple[Wanted, ...]
    losses: tuple[Loss, ...]
    shortages: tuple[Shortage, ...]
    stays: Mapping[str, int]


def net_openings(company: Company, openings: Sequence[OpeningDemand], market: Market) -> Netted:
    """Return the netting of what `openings` need, in date order, against what is promised to nobody.

    Whatever stands on an order line is settled; a promise of stock holds unless the need changed or the stock
    is gone.
    """
    need = amounts_of(openings)
    shelf = shelf_of(company, market.today)
    ordered, promised = _covers(shelf, need)
    standing = {promise.key for promise in shelf.promises}
    changed = {
        key
        for key, amount in promised.items()
        if key in standing and key not in ordered and amount != need[key]
    }
    own = {key for key in promised if key not in ordered}
    broken = changed | (_broken(shelf, market, without=changed) & own)
    shelf = replace(shelf, promises=tuple(one for one in shelf.promises if one.key not in broken))
    kept = {key: amount for key, amount in promised.items() if key not in broken}
    to_net = only(openings, {key for key in need if key not in ordered and key not in kept})
    return _net(to_net, shelf, market, ordered=ordered, kept=kept, broken=frozenset(broken))


def _net(
    openings: Sequence[OpeningDemand],
    shelf: Shelf,
    market: Market,
    *,
    ordered: Mapping[Key, Amount],
    kept: Mapping[Key, Amount],
    broken: frozenset[Key],
) -> Netted:
    need, cut = amounts_of(openings), _cut_materials(openings)
    before = share_out(_promised(shelf.promises), shelf.supply, market)
    demands = [
        Demand(one.material.key, one.quantity, each.needed, str(each.opening))
        for each in openings
        for one in each.needs
        if one.material.key not in cut
    ]
    shared = share_out(demands, shelf.supply.without(before.taken), market)
    given = {(int(whose), material): Amount(share) for (material, whose), share in shared.given.items()}
    for material in sorted(cut):
        given |= _cut(openings, shelf, material, today=market.today)
    lacks = {key: lacking(amount, given.get(key, NOTHING)) for key, amount in need.items()}
    lacks = {key: amount for key, amount in lacks.items() if amount.quantity}
    return Netted(
        ordered=ordered,
        kept=kept,
        given=given,
        lacking=lacks,
        broken=broken,
        wanted=_wanted(openings, lacks, [*shared.wanted]),
        losses=shared.losses,
        shortages=shared.shortages,
        stays=shelf.levels,
    )


def _covers(shelf: Shelf, need: Mapping[Key, Amount]) -> tuple[dict[Key, Amount], dict[Key, Amount]]:
    """Return what order lines and what stock alone cover of the openings, by opening and material."""
    ordered: dict[Key, list[Amount]] = {}
    promised: dict[Key, list[Amount]] = {}
    for cover in shelf.covers:
        if cover.key in need:
            found = promised if cover.line is None else ordered
            found.setdefault(cover.key, []).append(cover.amount)
    return _totals(ordered), _totals(promised)


def _totals(amounts: Mapping[Key, list[Amount]]) -> dict[Key, Amount]:
    return {key: total(found) for key, found in amounts.items()}


def _broken(shelf: Shelf, market: Market, *, without: set[Key]) -> set[Key]:
    """Return the promises that stock can't keep: of rolls those of a material whose rolls don't reach."""
    promises = [promise for promise in shelf.promises if promise.key not in without]
    shared = share_out(_promised(promises), shelf.supply, market)
    length: Counter[str] = Counter()
    for promise in promises:
        if promise.amount.pieces:
            length[promise.key[1]] += promise.amount.quantity
    reach = {
        material: sum(roll.length * roll.count for roll in shelf.rolls.get(material, ()))
        for material in length
    }
    return {
        promise.key
        for promise in promises
        if (
            reach[promise.key[1]] < length[promise.key[1]]
            if promise.amount.pieces
            else shared.given.get((promise.key[1], str(promise.key[0])), 0) < promise.amount.quantity
        )
    }


def _promised(promises: Iterable[Promise]) -> list[Demand]:
    return [
        Demand(promise.key[1], promise.amount.quantity, promise.needed, str(promise.key[0]))
        for promise in promises
        if not promise.amount.pieces
    ]


def _cut_materials(openings: Iterable[OpeningDemand]) -> set[str]:
    return {need.material.key for each in openings for need in each.needs if need.pieces}


def _cut(openings: Iterable[OpeningDemand], shelf: Shelf, material: str, *, today: date) -> dict[Key, Amount]:
    needs = [
        Strips(str(promise.key[0]), promise.needed, promise.amount.pieces, promised=True)
        for promise in shelf.promises
        if promise.key[1] == material
    ]
    fresh = [
        Strips(f"new {each.opening}", each.needed, dict(need.pieces))
        for each in openings
        for need in each.needs
        if need.material.key == material
    ]
    reserve = shelf.reserve_of(material)
    cut = cut_from_shelf([*needs, *fresh], shelf.rolls.get(material, ()), reserve=reserve, today=today)
    own = {each.opening: cut.get(f"new {each.opening}") for each in openings}
    return {(opening, material): Amount.cut(got) for opening, got in own.items() if got}


def _wanted(
    openings: Sequence[OpeningDemand], lacks: Mapping[Key, Amount], plain: Sequence[Wanted]
) -> tuple[Wanted, ...]:
    """Return what to buy, in catalogue order: strips that lack, and net quantities of all else."""
    found = {one.material: one for one in plain}
    pieces: dict[str, list[Amount]] = {}
    for (_, material), amount in lacks.items():
        if amount.pieces:
            pieces.setdefault(material, []).append(amount)
    pans = pans_in(openings, lacks)
    for one in by_material(only(openings, lacks)):
        if one.material in pieces:
            amount = total(pieces[one.material])
            found[one.material] = Wanted(
                one.material, one.needed, amount.quantity, amount.pieces, pans[one.material]
            )
    return tuple(found[key] for key in load_catalogue().materials if key in found)
