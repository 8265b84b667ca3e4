"""Whether a plan keeps every rule of its problem, checked anew from the problem's own words. Pure.

Nothing here is shared with the engines that make plans, so that their mistakes are found here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from crews.dayplan.plan import DayPlan
from crews.dayplan.problem import DayProblem, Lag, LagKind, Task


def verify(problem: DayProblem, plan: DayPlan) -> tuple[str, ...]:
    """Return what `plan` breaks, in words; empty where it keeps everything.

    A plan without a makespan is judged on its figures alone.
    """
    if plan.makespan is None:
        return tuple(_without_plan(plan))
    starts = plan.starts
    missing = [task.name for task in problem.tasks if task.name not in starts]
    unknown = starts.keys() - {task.name for task in problem.tasks}
    if missing or unknown:
        return (
            *(f"{name} is not in the plan." for name in missing),
            *(f"{name} is in the plan, but no task." for name in sorted(unknown)),
        )
    minutes = {task.name: task.minutes for task in problem.tasks}
    return (
        *(found for task in problem.tasks for found in _task(task, starts[task.name])),
        *(found for lag in problem.lags for found in _lag(lag, starts, minutes=minutes)),
        *_resources(problem, starts),
        *_figures(problem, plan),
    )


def _without_plan(plan: DayPlan) -> Iterator[str]:
    if plan.starts:
        yield "The plan has starts but no makespan."
    if plan.bound is not None:
        yield "The plan has a bound but no makespan."
    if plan.status in ("optimal", "feasible"):
        yield f"The plan is called {plan.status} and has no makespan."


def _task(task: Task, start: int) -> Iterator[str]:
    if start < 0:
        yield f"{task.name} starts before minute 0."
    if task.windows is None:
        return
    end = start + task.minutes
    if not any(window.start <= start and end <= window.end for window in task.windows):
        yield f"{task.name} from {start} to {end} lies in none of its windows."


def _lag(lag: Lag, starts: Mapping[str, int], *, minutes: Mapping[str, int]) -> Iterator[str]:
    counted_from = starts[lag.before]
    if lag.kind is LagKind.FINISH_START:
        counted_from += minutes[lag.before]
    passed = starts[lag.after] - counted_from
    if lag.minimum is not None and passed < lag.minimum:
        yield f"{lag.after} starts {passed} after {lag.before}, less than {lag.minimum}."
    if lag.maximum is not None and passed > lag.maximum:
        yield f"{lag.after} starts {passed} after {lag.before}, more than {lag.maximum}."


def _resources(problem: DayProblem, starts: Mapping[str, int]) -> Iterator[str]:
    for resource in problem.resources:
        changes: dict[int, int] = {}
        for task in problem.tasks:
            amount = sum(used for name, used in task.uses if name == resource.name)
            if amount and task.minutes:
                start = starts[task.name]
                changes[start] = changes.get(start, 0) + amount
                changes[start + task.minutes] = changes.get(start + task.minutes, 0) - amount
        in_use = 0
        for moment in sorted(changes):
            in_use += changes[moment]
            if in_use > resource.capacity:
                yield f"At {moment} {in_use} of {resource.name} are in use; there are {resource.capacity}."


def _figures(problem: DayProblem, plan: DayPlan) -> Iterator[str]:
    end = max((plan.starts[task.name] + task.minutes for task in problem.tasks), default=0)
    if plan.makespan != end:
        yield f"The plan says that it ends at {plan.makespan}; its last task ends at {end}."
    if plan.bound is None or plan.bound > end:
        yield f"The plan's bound {plan.bound} is not at or below its end {end}."
    if plan.status not in ("optimal", "feasible"):
        yield f"The plan has starts, but is called {plan.status}."
    if plan.status == "optimal" and plan.bound != end:
        yield f"The plan is called optimal with a bound of {plan.bound} and an end of {end}."
