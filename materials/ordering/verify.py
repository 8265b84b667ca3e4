"""Does a purchase plan hold? Each promise is checked again from problem and plan alone. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from materials.ordering.plan import PurchaseLine, PurchasePlan, Status
from materials.ordering.problem import PurchaseProblem, Supplier

ONE_DAY = timedelta(days=1)


def verify(problem: PurchaseProblem, plan: PurchasePlan) -> tuple[str, ...]:
    """Return what is wrong with `plan`, a sentence each; empty where it holds."""
    return (
        *(fault for line in plan.lines for fault in _mispriced(line)),
        *(fault for line in plan.lines for fault in _misdated(problem, line)),
        *(fault for line in plan.lines for fault in _needless(problem, plan, line)),
        *(fault for material in problem.materials for fault in _uncovered(problem, plan, material)),
        *(fault for material in problem.materials for fault in _mislaid(problem, plan, material)),
        *_unspoken(plan),
        *_miscounted(plan),
    )


@dataclass(slots=True)
class _Stack:
    """Units that came on the evening of `came`; `owed` ones may serve the mornings before, too."""

    source: str
    left: int
    came: date = date.min
    closes: date = date.max
    owed: bool = False
    bought_for: date | None = None

    def turn(self, day: date) -> tuple[int, date, date]:
        """Return when `day` takes from it: what is there, what is owed, what is bought for that very day."""
        rank = 2 if self.bought_for == day else int(self.came >= day)
        return rank, self.closes, self.came


def _stock(problem: PurchaseProblem, material: str) -> list[_Stack]:
    """Return lots and deliveries. A delivery that nothing ordered today beats is owed to earlier mornings."""
    sellers = [problem.supplier_of(pack) for pack in problem.packs if pack.material == material]
    beaten_after = min((_first_arrival(problem, seller) for seller in sellers), default=date.max)
    lots = [
        _Stack(lot.name, lot.quantity, closes=lot.last_good or date.max)
        for lot in problem.lots
        if lot.material == material
    ]
    return lots + [
        _Stack(d.reference, d.quantity, d.due, d.last_good or date.max, owed=d.due <= beaten_after)
        for d in problem.deliveries
        if d.material == material
    ]


def _bought(problem: PurchaseProblem, plan: PurchasePlan, material: str) -> list[_Stack]:
    """Return lots, deliveries, the plan's packs, and what it says can never be had."""
    packs = [_purchase(line.bought, line.needed) for line in plan.lines if line.material == material]
    never = [
        _purchase(shortage.quantity, shortage.needed)
        for shortage in plan.shortages
        if shortage.material == material and shortage.comes is None
    ]
    return _stock(problem, material) + packs + never


def _purchase(quantity: int, needed: date) -> _Stack:
    return _Stack("bought", quantity, needed - ONE_DAY, bought_for=needed)


def _walk(problem: PurchaseProblem, material: str, stacks: Sequence[_Stack]) -> Iterator[tuple[date, int]]:
    """Yield each day with what is missing on it, need and reserve; takes the needs off the stacks."""
    days = sorted({d.needed for d in problem.demands if d.material == material and d.quantity})
    for day in days:
        need = sum(d.quantity for d in problem.demands if d.material == material and d.needed == day)
        good = [s for s in stacks if (s.came < day or s.owed) and s.closes >= max(day, problem.today)]
        missing = need + problem.reserve_of(material) - sum(stack.left for stack in good)
        for stack in sorted(good, key=lambda stack: stack.turn(day)):
            taken = min(need, stack.left)
            stack.left -= taken
            need -= taken
        yield day, max(0, missing)


def _uncovered(problem: PurchaseProblem, plan: PurchasePlan, material: str) -> Iterator[str]:
    for day, missing in _walk(problem, material, _bought(problem, plan, material)):
        if missing:
            yield f"{material} is {missing} short on {day}."


def _mislaid(problem: PurchaseProblem, plan: PurchasePlan, material: str) -> Iterator[str]:
    """Tell where the losses are not what is left on stock's last good days, were exactly the nets bought."""
    nets = [net for net in plan.nets if net.material == material]
    stacks = _stock(problem, material)
    walk = _walk(problem, material, stacks + [_purchase(net.net, net.needed) for net in nets])
    days = [day for day, _ in walk]
    spoiled = Counter(
        (stack.source, stack.left)
        for stack in stacks
        if stack.left and stack.closes < max(*days, problem.today)
    )
    if spoiled != Counter((loss.source, loss.quantity) for loss in plan.losses if loss.material == material):
        yield f"The losses of {material} do not add up."


def _needless(problem: PurchaseProblem, plan: PurchasePlan, line: PurchaseLine) -> Iterator[str]:
    """Tell a line of which one pack fewer, or below the minimum none, would do."""
    fewer = line.packs - 1 if line.packs > line.pack.minimum else 0
    lines = tuple(replace(other, packs=fewer) if other is line else other for other in plan.lines)
    stacks = _bought(problem, replace(plan, lines=lines), line.material)
    if not any(missing for _, missing in _walk(problem, line.material, stacks)):
        yield f"Fewer than {line.packs} x {line.pack.name} would do for {line.needed}."


def _mispriced(line: PurchaseLine) -> Iterator[str]:
    price = line.pack.price
    for step in sorted(line.pack.breaks, key=lambda step: step.packs):
        price = step.price if line.packs >= step.packs else price
    if line.unit_price != price or line.total.cents != price.cents * line.packs:
        yield f"{line.packs} x {line.pack.name} is priced wrongly."
    if line.packs < line.pack.minimum or line.bought < line.quantity:
        yield f"{line.packs} x {line.pack.name} is too few."


def _misdated(problem: PurchaseProblem, line: PurchaseLine) -> Iterator[str]:
    supplier = problem.supplier_of(line.pack)
    if line.order_by < problem.today:
        yield f"{line.pack.name} would have to be ordered on {line.order_by}, before today."
    worked = _working_days(supplier, line.order_by, line.arrives)
    ordered_off = not _is_worked(supplier, line.order_by)
    if not _is_worked(supplier, line.arrives) or worked != supplier.lead_days + ordered_off:
        yield f"{line.pack.name} ordered on {line.order_by} does not arrive on {line.arrives}."
    sellers = [problem.supplier_of(pack) for pack in problem.packs if pack.material == line.material]
    if line.is_late and any(_first_arrival(problem, seller) < line.needed for seller in sellers):
        yield f"{line.pack.name} is late, though another pack could come in time."


def _first_arrival(problem: PurchaseProblem, supplier: Supplier) -> date:
    """Return the first evening on which an order of today can be there."""
    day = problem.today
    waiting = supplier.lead_days + (not _is_worked(supplier, day))
    while waiting:
        day += ONE_DAY
        waiting -= _is_worked(supplier, day)
    return day


def _working_days(supplier: Supplier, after: date, until: date) -> int:
    """Return the working days after `after`, up to and with `until`."""
    span = max(0, (until - after).days)
    return sum(_is_worked(supplier, after + ONE_DAY * ahead) for ahead in range(1, span + 1))


def _is_worked(supplier: Supplier, day: date) -> bool:
    return day.isoweekday() <= 5 and day not in supplier.holidays


def _unspoken(plan: PurchasePlan) -> Iterator[str]:
    """Tell late lines and late deliveries that serve a need without being named as a shortage."""
    named = {(shortage.material, shortage.needed) for shortage in plan.shortages}
    late_lines = {(line.material, line.needed) for line in plan.lines if line.is_late}
    for net in plan.nets:
        key = (net.material, net.needed)
        if (net.late or (key in late_lines and net.unfilled)) and key not in named:
            yield f"{net.material} is late for {net.needed}, and nothing says so."


def _miscounted(plan: PurchasePlan) -> Iterator[str]:
    cost = sum(line.total.cents for line in plan.lines)
    if plan.cost.cents != cost:
        yield f"The cost is {cost} cents, not {plan.cost.cents}."
    if plan.bound.cents > plan.cost.cents:
        yield f"The bound {plan.bound.cents} is above the cost {plan.cost.cents}."
    if (plan.status is Status.OPTIMAL) != (plan.bound == plan.cost):
        yield f"{plan.status} does not go with cost and bound."
    for net in plan.nets:
        if net.net != max(0, net.need + net.reserve - net.usable) or net.unfilled < 0:
            yield f"The net demand of {net.material} on {net.needed} does not add up."
