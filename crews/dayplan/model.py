"""The constraint model of a day problem, and what the library's search answers. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from crews.dayplan.network import Arc, Network, NoOrder
from crews.dayplan.rules import (
    Variables,
    ends_with_the_last_task,
    keeps_its_lag,
    lies_inside_its_windows,
    uses_no_more_than_there_is,
)


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """How long to search, with how many workers, from which seed. One worker and the same seed repeat."""

    seconds: float = 10.0
    workers: int = 8
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Found:
    """The search's answer: starts by task number, None where it has none; a bound; whether it is done."""

    starts: tuple[int, ...] | None
    bound: int
    is_proven: bool


def search(
    network: Network, orders: Sequence[Arc], *, bound: int, hint: Sequence[int] | None, limits: SearchLimits
) -> Found:
    """Return the best starts found within `limits`; `hint` is a plan to start from, `bound` one that holds.

    `orders` hold in every plan that ends with the hint or sooner. Raises NoOrder where the search proves that
    there is no plan.
    """
    from ortools.sat.python import cp_model

    model: Any = cp_model.CpModel()
    variables = _build(model, network, orders=orders, bound=bound, hint=hint)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = limits.seconds
    solver.parameters.num_workers = limits.workers
    solver.parameters.random_seed = limits.seed
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        raise NoOrder("No order keeps all lags, windows and resources at once.")
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Found(None, bound, is_proven=False)
    starts = tuple(int(solver.value(start)) for start in variables.starts)
    # The bound is a whole number; the library hands it out as a float.
    return Found(starts, max(bound, round(solver.best_objective_bound)), status == cp_model.OPTIMAL)


def _build(
    model: Any, network: Network, *, orders: Sequence[Arc], bound: int, hint: Sequence[int] | None
) -> Variables:
    from ortools.sat.python import cp_model

    tasks = network.tasks
    variables = Variables()
    end_latest = network.horizon
    if hint is not None:
        end_latest = max(start + task.minutes for start, task in zip(hint, tasks, strict=True))
    for place, task in enumerate(tasks):
        latest = min(network.latest[place], end_latest - network.tails[place])
        spans = lies_inside_its_windows(task, earliest=network.earliest[place], latest=latest)
        start = model.new_int_var_from_domain(cp_model.Domain.from_intervals(spans), f"start {place}")
        variables.starts.append(start)
        variables.intervals.append(model.new_fixed_size_interval_var(start, task.minutes, f"task {place}"))
        if hint is not None:
            model.add_hint(start, hint[place])
    variables.end.append(model.new_int_var(bound, end_latest, "end"))
    for arc in (*network.arcs, *orders):
        keeps_its_lag(model, variables, arc=arc)
    for resource in network.problem.resources:
        uses_no_more_than_there_is(model, variables, resource=resource, tasks=tasks)
    ends_with_the_last_task(model, variables, tasks=tasks)
    return variables
