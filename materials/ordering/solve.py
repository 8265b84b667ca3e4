"""What to buy, from whom and by when: each net demand in whole packs of its cheapest kind. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from materials.cutplan.bound import Kind, cheapest_cover
from materials.ordering.netting import earliest_arrival, net_demands
from materials.ordering.plan import NetDemand, PurchaseLine, PurchasePlan, Shortage, Status
from materials.ordering.problem import Pack, PurchaseProblem
from materials.ordering.workdays import arrival, in_by, order_by
from projects.quantities.money import Money


def plan_purchases(problem: PurchaseProblem) -> PurchasePlan:
    """Return the plan: lines by material and day, each at the pack that makes the line cheapest.

    What is too much in whole packs serves the material's later days. Packs that can come in time go before
    cheaper ones that cannot; where none can, the first to arrive is bought and the shortage named.
    """
    netting = net_demands(problem)
    lines: list[PurchaseLine] = []
    shortages: list[Shortage] = []
    bound = 0
    for material in problem.materials:
        nets = [net for net in netting.nets if net.material == material]
        bought = list(_lines(problem, nets))
        lines += bought
        shortages += _shortages(problem, nets, lines=bought)
        bound += _least_cost(problem, material, quantity=sum(net.net for net in nets))
    cost = sum(line.total.cents for line in lines)
    return PurchasePlan(
        status=Status.OPTIMAL if cost == bound else Status.FEASIBLE,
        cost=Money(cost, problem.currency),
        bound=Money(bound, problem.currency),
        nets=netting.nets,
        lines=tuple(lines),
        losses=netting.losses,
        shortages=tuple(shortages),
    )


def _lines(problem: PurchaseProblem, nets: Sequence[NetDemand]) -> Iterator[PurchaseLine]:
    """Yield one material's lines in date order; what earlier packs hold too much is used first."""
    spare = 0
    for net in nets:
        wanted = net.net - spare
        spare = max(0, -wanted)
        if wanted <= 0:
            continue
        line = _cheapest_line(problem, net, wanted)
        if line is not None:
            spare = line.bought - wanted
            yield line


def _cheapest_line(problem: PurchaseProblem, net: NetDemand, quantity: int) -> PurchaseLine | None:
    """Return the line for `quantity`; None where nobody sells the material."""
    packs = [pack for pack in problem.packs if pack.material == net.material]
    lines = [_line(problem, pack, needed=net.needed, quantity=quantity) for pack in packs]
    in_time = [line for line in lines if not line.is_late]
    if in_time:
        return min(in_time, key=lambda line: (line.total, line.packs, line.pack.supplier, line.pack.name))
    return min(lines, key=lambda line: (line.arrives, line.total, line.pack.supplier), default=None)


def _line(problem: PurchaseProblem, pack: Pack, *, needed: date, quantity: int) -> PurchaseLine:
    supplier = problem.supplier_of(pack)
    packs = pack.packs_for(quantity)
    latest = order_by(needed, supplier)
    in_time = latest >= problem.today
    return PurchaseLine(
        material=pack.material,
        needed=needed,
        quantity=quantity,
        pack=pack,
        packs=packs,
        unit_price=pack.unit_price(packs),
        total=pack.unit_price(packs) * packs,
        order_by=latest if in_time else problem.today,
        arrives=in_by(needed, supplier) if in_time else arrival(problem.today, supplier),
    )


def _shortages(
    problem: PurchaseProblem, nets: Sequence[NetDemand], *, lines: Sequence[PurchaseLine]
) -> Iterator[Shortage]:
    """Yield what is late or cannot be had, day by day."""
    by_day = {line.needed: line for line in lines}
    for net in nets:
        yield from late_deliveries(net)
        line = by_day.get(net.needed)
        if net.net and earliest_arrival(problem, net.material) is None:
            reason = f"No supplier sells {net.material}."
            yield Shortage(net.material, net.needed, net.net, None, reason)
        elif line is not None and line.is_late and net.unfilled:
            reason = (
                f"Needed on the morning of {told(net.needed)}; ordered today from {line.pack.supplier} it "
                f"comes {told(line.arrives)}."
            )
            yield Shortage(net.material, net.needed, min(net.unfilled, line.quantity), line.arrives, reason)


def late_deliveries(net: NetDemand) -> Iterator[Shortage]:
    """Yield what serves a day though it comes after its morning."""
    for draw in net.late:
        reason = (
            f"Delivery {draw.source} comes {told(draw.due or net.needed)}, after the morning of "
            f"{told(net.needed)}; nothing ordered today comes sooner."
        )
        yield Shortage(net.material, net.needed, draw.quantity, draw.due, reason)


def _least_cost(problem: PurchaseProblem, material: str, *, quantity: int) -> int:
    """Return the cents that `quantity` costs at least, in any mix of packs at their lowest prices."""
    packs = [pack for pack in problem.packs if pack.material == material]
    kinds = [
        Kind(pack.size, min(price.cents for price in (pack.price, *(step.price for step in pack.breaks))))
        for pack in packs
    ]
    cover = cheapest_cover(quantity, kinds)
    return 0 if cover is None else cover.cost


def told(day: date) -> str:
    """Return a day as people say it: `Thursday 11 June`."""
    return f"{day:%A} {day.day} {day:%B}"
