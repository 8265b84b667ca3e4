"""The shortest plan of a day problem, found and proven as far as the time allows. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from crews.dayplan.bounds import lower_bound
from crews.dayplan.list_scheduler import end_of, schedule_by_rules
from crews.dayplan.model import Found, SearchLimits, search
from crews.dayplan.network import Network, NoOrder
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

    The list scheduler answers at once; where its plan is not as short as the bound, the search goes on. No
    plan, and none within the time, are answers. Raises BrokenPlan where the answer fails its check.
    """
    begun = clock()
    network = Network(problem)
    try:
        bound = lower_bound(network)
        quick = schedule_by_rules(
            network, bound=bound, is_over=lambda: clock() - begun > limits.seconds * LIST_SHARE
        )
        left = replace(limits, seconds=limits.seconds - (clock() - begun))
        found = _improve(network, bound=bound, quick=quick, limits=left)
    except NoOrder as none:
        return DayPlan(Status.INFEASIBLE, clock() - begun, reason=none.reason)
    plan = _answer(network, found, seconds=clock() - begun)
    if broken := verify(problem, plan):
        raise BrokenPlan(*broken)
    return plan


def _improve(network: Network, *, bound: int, quick: Sequence[int] | None, limits: SearchLimits) -> Found:
    """Return the better of the quick plan and what a search finds in what is left of the time."""
    first = Found(None if quick is None else tuple(quick), bound, is_proven=False)
    if quick is not None and end_of(network, quick) == bound:
        return replace(first, is_proven=True)
    if limits.seconds <= 0:
        return first
    found = search(network, bound=bound, hint=quick, limits=limits)
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
