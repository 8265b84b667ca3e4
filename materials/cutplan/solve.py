"""Plan the cuts: the cheapest rolls for all pieces, with a proven least cost beside it. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from materials.cutplan.engine import Engine
from materials.cutplan.naming import named_cuts
from materials.cutplan.plan import CutPlan, Splice, Status
from materials.cutplan.problem import CutProblem, Number, plain, told
from materials.cutplan.splices import forced_splices, least_cost_with_laps, saving_splices, spliced
from materials.cutplan.whole import in_whole_numbers, kinds_of
from projects.problems import Problem

Clock = Callable[[], float]


def plan_cuts(problem: CutProblem, *, seconds: float, clock: Clock) -> CutPlan:
    """Return the best plan found within `seconds` of `clock` (which counts seconds from any moment).

    At least one plan is tried however short the time. Leftovers of `usable_offcut` break ties of cost.
    """
    begun = clock()
    forced = forced_splices(problem)
    plan = _plan(problem, forced, until=begun + seconds, clock=clock)
    if any(piece.may_splice for piece in problem.pieces) and not _too_long(spliced(problem, forced)):
        further = saving_splices(spliced(problem, forced), cost=plan.cost)
        tried = [plan]
        if further:
            tried.append(_plan(problem, (*forced, *further), until=begun + seconds, clock=clock))
        plan = _best_of(problem, tried, forced=forced)
    return replace(plan, seconds=clock() - begun)


_WHY_NOT = {
    Status.INFEASIBLE: Problem(
        "The rolls and offcuts that are available cannot hold all pieces.",
        "Raise what is available, or cut fewer pieces.",
    ),
    Status.OUT_OF_TIME: Problem(
        "No plan was found that cuts all pieces from what is available.",
        "Allow more seconds, or raise what is available.",
    ),
}


def _plan(problem: CutProblem, splices: Sequence[Splice], *, until: float, clock: Clock) -> CutPlan:
    """Return the plan of the problem with the parts of `splices` as pieces, none spliced further."""
    problem = spliced(problem, splices)
    too_long = _too_long(problem)
    if too_long:
        return CutPlan(Status.INFEASIBLE, 0, problems=too_long)
    if not any(piece.count for piece in problem.pieces):
        return CutPlan(Status.OPTIMAL, 0, cost=0, bound=0)
    engine = Engine(in_whole_numbers(problem), until=until, clock=clock)
    status = engine.run()
    if status in _WHY_NOT:
        return CutPlan(status, 0, problems=(_WHY_NOT[status],))
    fineness = engine.whole.cost_fineness
    return CutPlan(
        status,
        0,
        cost=plain(Fraction(engine.cost, fineness)),
        bound=plain(Fraction(engine.bound, fineness)),
        cuts=named_cuts(problem, engine.whole, engine.layouts or []),
        splices=tuple(splices),
        weights=None if engine.weights is None else _by_length(problem, engine.weights),
    )


def _by_length(problem: CutProblem, weights: Sequence[int]) -> dict[Number, int]:
    lengths = dict.fromkeys(length for length, _ in kinds_of(problem))
    return dict(zip(lengths, weights, strict=True))


def _best_of(problem: CutProblem, tried: Sequence[CutPlan], *, forced: Sequence[Splice]) -> CutPlan:
    """Return the cheapest of the plans, with what is proven of every plan, wherever it splices.

    The first of `tried` has the splices that are `forced`, and no others.
    """
    known = spliced(problem, forced)
    least = least_cost_with_laps(known, laps=0 if forced else 1)
    first = tried[0]
    if first.status is Status.OUT_OF_TIME or (not forced and first.bound is not None):
        whole = first.bound if first.bound is not None else least_cost_with_laps(known, laps=0)
        least = whole if least is None or whole is None else min(least, whole)
    found = [plan for plan in tried if plan.cost is not None]
    if not found:
        return (
            first
            if least is None
            else CutPlan(Status.OUT_OF_TIME, 0, problems=(_WHY_NOT[Status.OUT_OF_TIME],))
        )
    best = min(found, key=lambda plan: plan.cost or 0)
    status = Status.OPTIMAL if best.cost == least else Status.FEASIBLE
    return replace(best, bound=least, status=status, weights=None)


def _too_long(problem: CutProblem) -> tuple[Problem, ...]:
    """Return a problem for each piece that no roll or offcut can hold."""
    longest = problem.longest
    limit = f"the longest roll or offcut is {told(longest)}" if longest else "there is no roll or offcut"
    return tuple(
        Problem(
            f"{piece.name!r} is {told(piece.length)} long; {limit}.",
            "Add a longer roll, or split the piece where a splice is allowed.",
            value=told(piece.length),
        )
        for piece in problem.pieces
        if piece.count and piece.length > longest
    )
