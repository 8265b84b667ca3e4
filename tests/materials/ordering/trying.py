"""The least cost of a purchase plan by trying every number of packs. It knows the rules and no search."""

from __future__ import annotations

from itertools import product

from materials.ordering.netting import net_demands
from materials.ordering.offers import may_stand_below, sellers_on
from materials.ordering.problem import Pack, PurchaseProblem


def least_by_trying(problem: PurchaseProblem) -> int:
    """Return the cents that the cheapest plan costs: lines, freight, and what orders lack to a minimum."""
    nets = [net for net in net_demands(problem).nets if net.net]
    below = may_stand_below(problem, nets)
    materials = sorted({net.material for net in nets})
    kinds = [pack for pack in problem.packs if pack.material in materials]
    best = None
    for numbers in product(*(range(_most(problem, pack, nets) + 1) for pack in kinds)):
        packs = {pack: number for pack, number in zip(kinds, numbers, strict=True) if number}
        if all(number >= pack.minimum for pack, number in packs.items()) and all(
            _covers(problem, [net for net in nets if net.material == material], packs)
            for material in materials
        ):
            cost = _cost(problem, packs, below)
            if cost is not None and (best is None or cost < best):
                best = cost
    assert best is not None
    return best


def _most(problem, pack, nets):
    """Return a number of packs that is never worth passing: enough, at every break, alone at the minimum."""
    need = sum(net.net for net in nets if net.material == pack.material)
    last = max([pack.minimum, *(step.packs for step in pack.breaks)])
    price = pack.unit_price(last).cents
    minimum = problem.supplier_of(pack).minimum.cents
    return max(last, -(-need // pack.size), -(-minimum // price) if price else 0)


def _covers(problem: PurchaseProblem, nets, packs: dict[Pack, int]) -> bool:
    """Return whether each day's net is there in packs that may be bought for it or for a day before."""
    material = nets[0].material
    mine = {pack: number for pack, number in packs.items() if pack.material == material}
    if problem.undivided and len({pack.supplier for pack in mine}) != 1:
        return not any(sellers_on(problem, net.material, net.needed) for net in nets)
    sellers: set[str] = set()
    need = 0
    for net in nets:
        sellers |= sellers_on(problem, material, net.needed)
        if not sellers:
            return not mine
        need += net.net
        if sum(pack.size * number for pack, number in mine.items() if pack.supplier in sellers) < need:
            return False
    return all(pack.supplier in sellers for pack in mine)


def _cost(problem: PurchaseProblem, packs: dict[Pack, int], below) -> int | None:
    cost = 0
    for supplier in problem.suppliers:
        mine = [(pack, number) for pack, number in packs.items() if pack.supplier == supplier.key]
        if not mine:
            continue
        goods = sum(pack.unit_price(number).cents * number for pack, number in mine)
        lack = max(0, supplier.minimum.cents - goods)
        if lack and supplier.key not in below:
            return None
        cost += goods + supplier.freight.cents + lack
    return cost


def alone(problem: PurchaseProblem) -> int:
    """Return what it costs to buy each day's net at its cheapest pack, what is left over used first."""
    cost = 0
    used = set()
    for material in problem.materials:
        spare = 0
        for net in net_demands(problem).nets:
            wanted = net.net - spare if net.material == material else 0
            offers = [
                (pack.unit_price(packs).cents * packs, pack.supplier, packs * pack.size)
                for pack in problem.packs
                if pack.material == material
                and pack.supplier in sellers_on(problem, material, net.needed)
                and (packs := pack.packs_for(wanted))
            ]
            if net.material == material:
                spare = max(0, -wanted)
            if wanted > 0 and offers:
                total, supplier, bought = min(offers)
                cost += total
                used.add(supplier)
                spare = bought - wanted
    return cost + sum(supplier.freight.cents for supplier in problem.suppliers if supplier.key in used)


def least_by_assigning(problem: PurchaseProblem) -> int:
    """Return the same for undivided materials of one day: all choices of sellers, all sums of each order."""
    nets = {net.material: net for net in net_demands(problem).nets if net.net}
    below = may_stand_below(problem, list(nets.values()))
    sellers = [sorted(sellers_on(problem, key, net.needed)) for key, net in nets.items()]
    best = None
    for chosen in product(*sellers):
        cost: int | None = 0
        for supplier in problem.suppliers:
            mine = [nets[key] for key, one in zip(nets, chosen, strict=True) if one == supplier.key]
            goods = _least_goods(problem, supplier, mine, may_lack=supplier.key in below) if mine else 0
            cost = None if cost is None or goods is None else cost + goods
        if cost is not None and (best is None or cost < best):
            best = cost
    assert best is not None
    return best


def _least_goods(problem, supplier, nets, *, may_lack: bool) -> int | None:
    """Return the least that an order of these nets costs with freight; None where it can't be had."""
    minimum = supplier.minimum.cents
    sums = {0}
    for net in nets:
        packs = [p for p in problem.packs if (p.material, p.supplier) == (net.material, supplier.key)]
        choices = {
            sum(pack.unit_price(number).cents * number for pack, number in zip(packs, numbers, strict=True))
            for numbers in product(
                *([0, *range(pack.minimum, _most(problem, pack, nets) + 1)] for pack in packs)
            )
            if sum(pack.size * number for pack, number in zip(packs, numbers, strict=True)) >= net.net
        }
        # beyond the minimum only the least of each is worth anything
        sums = {before + more for before in sums for more in choices}
        sums = {sum_ for sum_ in sums if sum_ < minimum} | {min(s for s in sums if s >= minimum)}
    lowest = min(sums) if may_lack else min(s for s in sums if s >= minimum)
    return supplier.freight.cents + max(lowest, minimum)
