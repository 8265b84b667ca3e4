"""Does a purchase plan hold? Each promise is checked again from problem and plan alone. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date

from materials.ordering.plan import PurchaseLine, PurchasePlan
from materials.ordering.problem import PurchaseProblem
from materials.ordering.verify_orders import order_faults
from materials.ordering.walk import (
    arrivals_of,
    bought_in,
    is_worked,
    needs_of,
    purchase,
    stock_of,
    walk,
    working_days,
)

Days = Mapping[date, int]


def verify(problem: PurchaseProblem, plan: PurchasePlan) -> tuple[str, ...]:
    """Return what is wrong with `plan`, a sentence each; empty where it holds."""
    needs = needs_of(problem)
    return (
        *order_faults(problem, plan, needs),
        *(fault for line in plan.lines for fault in _misdated(problem, line)),
        *(
            fault
            for material, days in sorted(needs.items())
            for check in (_uncovered, _misnetted, _mislaid, _misshared, _unspoken)
            for fault in check(problem, plan, material, days)
        ),
    )


def _uncovered(problem: PurchaseProblem, plan: PurchasePlan, material: str, days: Days) -> Iterator[str]:
    stacks = bought_in(problem, plan, material)
    for morning in walk(problem, days, stacks, reserve=problem.reserve_of(material)):
        if morning.missing:
            yield f"{material} is {morning.missing} short on {morning.day}."


def _misnetted(problem: PurchaseProblem, plan: PurchasePlan, material: str, days: Days) -> Iterator[str]:
    """Tell nets that are not what each day lacks, were exactly the nets of the days before bought."""
    nets = {net.needed: net for net in plan.nets if net.material == material}
    reserve = problem.reserve_of(material)
    stacks = stock_of(problem, material)
    for morning in walk(problem, days, stacks, reserve=reserve):
        stacks.append(purchase(morning.missing - morning.unserved, morning.day))
        net = nets.pop(morning.day, None)
        told = net and (net.need, net.reserve, net.net, net.unfilled)
        if told != (days[morning.day], reserve, morning.missing, morning.unserved) or (
            net and net.net != max(0, net.need + net.reserve - net.usable)
        ):
            yield f"The net demand of {material} on {morning.day} does not add up."
    for day in nets:
        yield f"The net demand of {material} on {day} is for nothing."


def _mislaid(problem: PurchaseProblem, plan: PurchasePlan, material: str, days: Days) -> Iterator[str]:
    """Tell where the losses are not what is left on stock's last good days, were exactly the nets bought."""
    nets = [net for net in plan.nets if net.material == material]
    stacks = stock_of(problem, material)
    bought = [purchase(net.net, net.needed) for net in nets]
    last = max(m.day for m in walk(problem, days, stacks + bought, reserve=problem.reserve_of(material)))
    spoiled = Counter(
        (stack.source, stack.left, stack.closes)
        for stack in stacks
        if stack.left and stack.closes < max(last, problem.today)
    )
    told = Counter(
        (one.source, one.quantity, one.last_good) for one in plan.losses if one.material == material
    )
    if spoiled != told:
        yield f"The losses of {material} do not add up."


def _misshared(problem: PurchaseProblem, plan: PurchasePlan, material: str, days: Days) -> Iterator[str]:
    """Tell days whose lines do not give what the packs before them left open of the net demand."""
    spare = 0
    never = {short.needed for short in plan.shortages if short.material == material and short.comes is None}
    for net in plan.nets:
        if net.material != material or net.needed in never:
            continue
        lines = [line for line in plan.lines if (line.material, line.needed) == (material, net.needed)]
        if sum(line.quantity for line in lines) != max(0, net.net - spare):
            yield f"The lines of {material} for {net.needed} do not give what is open."
        spare += sum(line.bought for line in lines) - net.net


def _misdated(problem: PurchaseProblem, line: PurchaseLine) -> Iterator[str]:
    supplier = problem.supplier_of(line.pack)
    if line.order_by < problem.today:
        yield f"{line.pack.name} would have to be ordered on {line.order_by}, before today."
    worked = working_days(supplier, line.order_by, line.arrives)
    ordered_off = not is_worked(supplier, line.order_by)
    if not is_worked(supplier, line.arrives) or worked != supplier.lead_days + ordered_off:
        yield f"{line.pack.name} ordered on {line.order_by} does not arrive on {line.arrives}."
    if not line.is_late:
        return
    first = min(arrivals_of(problem, line.material).values())
    if first < line.needed:
        yield f"{line.pack.name} is late, though another pack could come in time."
    elif first < line.arrives:
        yield f"{line.pack.name} comes on {line.arrives}, though another pack could come on {first}."


def _unspoken(problem: PurchaseProblem, plan: PurchasePlan, material: str, days: Days) -> Iterator[str]:
    """Tell what serves a morning that it comes after, and is not named as a shortage."""
    lines = [line for line in plan.lines if line.material == material]
    named: Counter[tuple[date, date | None]] = Counter()
    for short in plan.shortages:
        if short.material == material:
            named[short.needed, short.comes] += short.quantity
    through = 0
    for net in plan.nets:
        if net.material != material:
            continue
        through += net.net
        late = through - sum(line.bought for line in lines if line.arrives < net.needed)
        late = min(late, net.net, net.unfilled) if lines else 0
        owed = sum(draw.quantity for draw in net.late)
        told = sum(quantity for (day, comes), quantity in named.items() if day == net.needed and comes)
        if told != max(0, late) + owed:
            yield f"{material} is late for {net.needed}, and nothing says so."
        if net.net and not lines and named[net.needed, None] != net.net:
            yield f"{material} can't be had for {net.needed}, and nothing says so."
