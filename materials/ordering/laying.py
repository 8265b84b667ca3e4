"""The packs that were chosen as lines by day, the orders they come to, and what comes late. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from materials.ordering.offers import sellers_on
from materials.ordering.plan import Charge, NetDemand, PurchaseLine, Shortage
from materials.ordering.problem import Pack, PurchaseProblem, Supplier
from materials.ordering.workdays import arrival, in_by, order_by
from projects.quantities.money import Money


def lines_of(
    problem: PurchaseProblem, nets: Sequence[NetDemand], packs: Mapping[Pack, int]
) -> Iterator[PurchaseLine]:
    """Yield one material's lines in date order, each pack as late as it may be.

    What earlier packs hold too much is used first. Then comes the smallest pack that holds all that a day
    lacks, else the largest. Packs that no day lacks, bought for a break or a minimum, come with the last day.
    """
    days = [net for net in nets if net.net]
    left = Counter(packs)
    spare = 0
    for net in days:
        wanted = max(0, net.net - spare)
        taken = _taken(left, wanted, sellers=sellers_on(problem, net.material, net.needed))
        spare += sum(pack.size * number for pack, number in taken.items()) - net.net
        if net is days[-1]:
            taken += left
        for pack in sorted(taken, key=_largest_first):
            quantity = min(wanted, pack.size * taken[pack])
            wanted -= quantity
            yield _line(problem, net, pack, quantity=quantity, packs=taken[pack], of=packs[pack])


def charges_of(problem: PurchaseProblem, lines: Sequence[PurchaseLine]) -> Iterator[Charge]:
    """Yield what each order comes to, by supplier key."""
    for supplier in sorted(problem.suppliers, key=lambda supplier: supplier.key):
        mine = [line.total.cents for line in lines if line.pack.supplier == supplier.key]
        if mine:
            goods = sum(mine)
            missing = Money(max(0, supplier.minimum.cents - goods), problem.currency)
            yield Charge(
                supplier.key,
                Money(goods, problem.currency),
                Money(supplier.freight.cents, problem.currency),
                missing,
                _lacking(supplier, missing) if missing.cents else "",
            )


def shortages_of(
    problem: PurchaseProblem, nets: Sequence[NetDemand], lines: Sequence[PurchaseLine]
) -> Iterator[Shortage]:
    """Yield what of one material is late or cannot be had, day by day."""
    needed = 0
    for net in nets:
        yield from late_deliveries(net)
        if not net.net:
            continue
        before, needed = needed, needed + net.net
        if not lines:
            reason = f"No supplier sells {net.material}."
            yield Shortage(net.material, net.needed, net.net, None, reason)
            continue
        there = sum(line.bought for line in lines if line.arrives < net.needed)
        late = max(0, needed - there) - max(0, before - there)
        if late and net.unfilled:
            yield _late(problem, net, lines, quantity=min(late, net.unfilled))


def late_deliveries(net: NetDemand) -> Iterator[Shortage]:
    """Yield what serves a day though it comes after its morning."""
    for draw in net.late:
        reason = (
            f"Delivery {draw.source} comes {told(draw.due or net.needed)}, after the morning of "
            f"{told(net.needed)}; nothing ordered today comes sooner."
        )
        yield Shortage(net.material, net.needed, draw.quantity, draw.due, reason)


def told(day: date) -> str:
    """Return a day as people say it: `Thursday 11 June`."""
    return f"{day:%A} {day.day} {day:%B}"


def _taken(left: Counter[Pack], wanted: int, *, sellers: frozenset[str]) -> Counter[Pack]:
    """Return packs that hold what is wanted, and take them from those that are left."""
    taken: Counter[Pack] = Counter()
    while wanted > 0:
        there = sorted((p for p in left if left[p] and p.supplier in sellers), key=_largest_first)
        pack = next((pack for pack in reversed(there) if pack.size >= wanted), there[0])
        number = min(left[pack], max(1, wanted // pack.size))
        taken[pack] += number
        left[pack] -= number
        wanted -= number * pack.size
    return taken


def _largest_first(pack: Pack) -> tuple[int, str, str]:
    return -pack.size, pack.supplier, pack.name


def _line(
    problem: PurchaseProblem, net: NetDemand, pack: Pack, *, quantity: int, packs: int, of: int
) -> PurchaseLine:
    """Return the line of `packs` packs out of the order's `of`."""
    supplier = problem.supplier_of(pack)
    latest = order_by(net.needed, supplier)
    in_time = latest >= problem.today
    price = pack.unit_price(of)
    return PurchaseLine(
        material=net.material,
        needed=net.needed,
        quantity=quantity,
        pack=pack,
        packs=packs,
        unit_price=price,
        total=price * packs,
        order_by=latest if in_time else problem.today,
        arrives=in_by(net.needed, supplier) if in_time else arrival(problem.today, supplier),
    )


def _late(
    problem: PurchaseProblem, net: NetDemand, lines: Sequence[PurchaseLine], *, quantity: int
) -> Shortage:
    """Return the shortage of a day that packs serve after its morning, bought for it or for one before."""
    late = [line for line in lines if line.needed <= net.needed <= line.arrives]
    comes = max(line.arrives for line in late)
    who = " and ".join(sorted({line.pack.supplier for line in late}))
    cost = sum(line.total.cents for line in late if line.needed == net.needed)
    reason = f"Needed on the morning of {told(net.needed)}; ordered today from {who} it comes {told(comes)}."
    return Shortage(
        net.material,
        net.needed,
        quantity,
        comes,
        reason,
        Money(cost, problem.currency) if cost else None,
    )


def _lacking(supplier: Supplier, missing: Money) -> str:
    return (
        f"The order to {supplier.key} lacks {missing.as_text} to its minimum of {supplier.minimum.as_text}: "
        f"add what is needed soon, or ask."
    )
