"""The shortest plan of a day problem, found and proven as far as the time allows. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from crews.dayplan.bounds import lower_bound
from crews.dayplan.list_scheduler import end_of, schedule_by_rules
from crews.dayplan.model import Found, SearchLimits, search
from crews.dayplan.network import Arc, Network, NoOrder
from crews.dayplan.pairs import Pairs
from crews.dayplan.plan import DayPlan, Status
from crews.dayplan.problem import DayProblem
from crews.dayplan.verify import verify
from projects.errors import AppError

# The list scheduler gets at most this share of the time; it seldom needs a hundredth.
LIST_SHARE = 0.25


class BrokenPlan(AppError):
    """Our own engine made a plan that breaks a rule: never the input's fault."""


def solve(problem: DayProblem, *, limits: SearchLimits, clock: Callable[[], float]) -> DayPlan:
    """Return the shortest plan found within `limits`, verified; `clock` tells seconds, as a stopwatch does.

    The list scheduler answers at once; where its plan is not as short as the bound, pairs of tasks raise the
    bound, and then the search goes on. No plan, and none within the time, are answers. Raises BrokenPlan
    where the answer fails its check.
    """
    begun = clock()
    network = Network(problem)
    try:
        bound = lower_bound(network)
        pairs = Pairs(network)
        if pairs.is_small_enough:
            pairs.find_orders(end_by=network.horizon)
        quick = schedule_by_rules(
            network, bound=bound, is_over=lambda: clock() - begun > limits.seconds * LIST_SHARE
        )
        left = replace(limits, seconds=limits.seconds - (clock() - begun))
        found = _improve(pairs, bound=bound, quick=quick, limits=left)
    except NoOrder as none:
        return DayPlan(Status.INFEASIBLE, clock() - begun, reason=none.reason)
    plan = _answer(network, found, seconds=clock() - begun)
    if broken := verify(problem, plan):
        raise BrokenPlan(*broken)
    return plan


def _improve(pairs: Pairs, *, bound: int, quick: Sequence[int] | None, limits: SearchLimits) -> Found:
    """Return the better of the quick plan and what a search finds in what is left of the time."""
    network = pairs.network
    end = network.horizon if quick is None else end_of(network, quick)
    orders: tuple[Arc, ...] = ()
    if pairs.is_small_enough:
        bound = pairs.raise_bound(bound=bound, end=end)
        orders = pairs.find_orders(end_by=end)
    first = Found(
        None if quick is None else tuple(quick), bound, is_proven=quick is not None and end == bound
    )
    if first.is_proven or limits.seconds <= 0:
        return first
    found = search(network, orders, bound=bound, hint=quick, limits=limits)
    return replace(found, starts=found.starts or first.starts)


def _answer(network: Network, found: Found, *, seconds: float) -> DayPlan:
    if found.starts is None:
        return DayPlan(Status.OUT_OF_TIME, seconds, reason="No plan was found within the time.")
    makespan = end_of(network, found.starts)
    is_optimal = found.is_proven or found.bound >= makespan
    return DayPlan(
        Status.OPTIMAL if is_optimal else Status.FEASIBLE,
        seconds,
        makespan=makespan,
        bound=makespan if is_optimal else found.bound,
        starts={task.name: start for task, start in zip(network.tasks, found.starts, strict=True)},
    )
