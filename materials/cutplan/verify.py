"""Does a cut plan hold? Every rule is checked again from problem and plan alone, without the engine. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from materials.cutplan.plan import Cut, CutPlan, Status
from materials.cutplan.problem import CutProblem, Number, Piece, told
from materials.cutplan.proof import is_proven

FOUND = frozenset({Status.OPTIMAL, Status.FEASIBLE})


def verify(problem: CutProblem, plan: CutPlan) -> tuple[str, ...]:
    """Return what is wrong with `plan`, a sentence each; empty where it holds."""
    if plan.status not in FOUND:
        told_nothing = plan.cost is None and plan.bound is None and not plan.cuts
        return () if told_nothing else (f"A plan that is {plan.status} has figures.",)
    misspliced = tuple(_misspliced(problem, plan))
    if misspliced:
        return misspliced
    problem = _with_parts(problem, plan)
    stocked = {stock.name for stock in problem.stock}
    unknown = [cut.roll for cut in plan.cuts if cut.roll not in stocked]
    if unknown:
        return tuple(f"{name!r} is neither a roll nor an offcut." for name in unknown)
    return (
        *_uncut(problem, plan),
        *_overdrawn(problem, plan),
        *(fault for cut in plan.cuts for fault in _misfits(problem, cut)),
        *_misjudged(problem, plan),
        *_unproven(problem, plan),
    )


def _misspliced(problem: CutProblem, plan: CutPlan) -> Iterator[str]:
    pieces = {piece.name: piece for piece in problem.pieces}
    for name, number in Counter(splice.piece for splice in plan.splices).items():
        if name not in pieces or not pieces[name].may_splice:
            yield f"{name!r} is spliced, which is not allowed."
        elif number > pieces[name].count:
            yield f"{name!r} is spliced {number} times; there are {pieces[name].count}."
    for splice in plan.splices:
        parts = list(splice.parts.values())
        if splice.piece not in pieces or len(parts) != 2 or min(parts) <= problem.lap:
            yield f"{splice.piece!r} is not spliced from two parts longer than the lap."
        elif sum(parts) != pieces[splice.piece].length + problem.lap:
            yield f"The parts of {splice.piece!r} do not overlap by {told(problem.lap)}."


def _with_parts(problem: CutProblem, plan: CutPlan) -> CutProblem:
    """Return the problem in which the parts of the plan's splices are pieces."""
    whole = Counter({piece.name: piece.count for piece in problem.pieces})
    whole.subtract(splice.piece for splice in plan.splices)
    pieces = [replace(piece, count=whole[piece.name]) for piece in problem.pieces]
    parts = [Piece(name, size, 1) for splice in plan.splices for name, size in splice.parts.items()]
    return replace(problem, pieces=(*pieces, *parts))


def _uncut(problem: CutProblem, plan: CutPlan) -> Iterator[str]:
    wanted = Counter({piece.name: piece.count for piece in problem.pieces})
    made: Counter[str] = Counter()
    for cut in plan.cuts:
        for name, count in cut.pieces.items():
            made[name] += count * cut.times
    for name in sorted(wanted.keys() | made.keys()):
        if wanted[name] != made[name]:
            yield f"{name!r} is cut {made[name]} times instead of {wanted[name]}."


def _overdrawn(problem: CutProblem, plan: CutPlan) -> Iterator[str]:
    limits = {roll.name: roll.available for roll in problem.rolls} | {o.name: 1 for o in problem.offcuts}
    used: Counter[str] = Counter()
    for cut in plan.cuts:
        used[cut.roll] += cut.times
    for name, times in used.items():
        limit = limits[name]
        if limit is not None and times > limit:
            yield f"{name!r} is used {times} times; there are {limit}."


def _misfits(problem: CutProblem, cut: Cut) -> Iterator[str]:
    sizes = {piece.name: piece.length for piece in problem.pieces}
    length = next(stock.length for stock in problem.stock if stock.name == cut.roll)
    if cut.times < 1 or not cut.pieces or min(cut.pieces.values()) < 1:
        yield f"A cut of {cut.roll!r} makes nothing."
        return
    number = sum(cut.pieces.values())
    filled = sum(sizes.get(name, 0) * count for name, count in cut.pieces.items())
    if filled + (number - 1) * problem.kerf > length:
        yield f"{cut.roll!r} holds {told(length)}; {number} pieces of {told(filled)} do not fit."
    if cut.left != max(0, length - filled - number * problem.kerf):
        yield f"{cut.roll!r} leaves {told(cut.left)} by the plan, which is not what remains."


def _unproven(problem: CutProblem, plan: CutPlan) -> Iterator[str]:
    if plan.weights is None or plan.bound is None:
        return
    if is_proven(problem, plan.weights, plan.bound) is False:
        yield f"The bound {told(plan.bound)} does not follow from the weights given for it."


def _misjudged(problem: CutProblem, plan: CutPlan) -> Iterator[str]:
    prices: dict[str, Number] = {roll.name: roll.cost for roll in problem.rolls}
    cost = sum(prices.get(cut.roll, 0) * cut.times for cut in plan.cuts)
    if plan.cost is None or plan.bound is None:
        yield "A plan with cuts has no cost or no bound."
        return
    if plan.cost != cost:
        yield f"The cost is {told(cost)}, not {told(plan.cost)}."
    if plan.bound > plan.cost:
        yield f"The bound {told(plan.bound)} is above the cost {told(plan.cost)}."
    if (plan.status is Status.OPTIMAL) != (plan.bound == plan.cost):
        yield f"{plan.status} does not go with the cost {told(plan.cost)} and the bound {told(plan.bound)}."
