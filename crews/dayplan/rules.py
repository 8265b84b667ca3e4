"""What a plan must keep, one function per rule, written into a constraint model. Pure.

`Variables` is filled and the model handed in by `model.py`; the library itself is imported only there.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from crews.dayplan.network import Arc
from crews.dayplan.problem import Resource, Task


@dataclass(frozen=True, slots=True)
class Variables:
    """The model's variables: a start and an interval per task, in their order, and the end of all."""

    starts: list[Any] = field(default_factory=list)
    intervals: list[Any] = field(default_factory=list)
    end: list[Any] = field(default_factory=list)


def lies_inside_its_windows(task: Task, *, earliest: int, latest: int) -> list[tuple[int, int]]:
    """A task is never cut by a break or the day's end: it lies wholly inside one of its windows."""
    if task.windows is None:
        return [(earliest, latest)]
    spans = ((max(window.start, earliest), min(window.end - task.minutes, latest)) for window in task.windows)
    return [(first, last) for first, last in spans if first <= last]


def keeps_its_lag(model: Any, variables: Variables, *, arc: Arc) -> None:
    """A task starts no sooner after another than it must, and no later than it may."""
    model.add(variables.starts[arc.after] >= variables.starts[arc.before] + arc.weight)


def uses_no_more_than_there_is(
    model: Any, variables: Variables, *, resource: Resource, tasks: tuple[Task, ...]
) -> None:
    """At no moment do the tasks under way use more people, or ladders, than there are."""
    used = [(place, dict(task.uses).get(resource.name, 0)) for place, task in enumerate(tasks)]
    users = [(place, amount) for place, amount in used if amount and tasks[place].minutes]
    if sum(amount for _, amount in users) > resource.capacity:
        model.add_cumulative(
            [variables.intervals[place] for place, _ in users],
            [amount for _, amount in users],
            resource.capacity,
        )


def ends_with_the_last_task(model: Any, variables: Variables, *, tasks: tuple[Task, ...]) -> None:
    """The day is as long as its last task lets it be, and we want it short."""
    (end,) = variables.end
    for start, task in zip(variables.starts, tasks, strict=True):
        model.add(end >= start + task.minutes)
    model.minimize(end)
