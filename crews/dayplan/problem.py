"""What is to be put in order: tasks, what they use, when they may run, how long after one another. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from projects.errors import BadValue
from projects.problems import Problem as Refusal


class LagKind(StrEnum):
    """From which end of the first task a lag is counted; it always ends at the second one's start."""

    FINISH_START = "finish-start"
    START_START = "start-start"


@dataclass(frozen=True, slots=True)
class Resource:
    """Something that tasks use while they run: people, a ladder."""

    name: str
    capacity: int


@dataclass(frozen=True, slots=True)
class Window:
    """A span in which a task may lie, both ends included."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Task:
    """A piece of work without interruption. `windows` None: at any time; empty: never."""

    name: str
    minutes: int
    uses: tuple[tuple[str, int], ...] = ()
    windows: tuple[Window, ...] | None = None


@dataclass(frozen=True, slots=True)
class Lag:
    """`after` starts at least `minimum` and at most `maximum` after `before`; None: no limit that way."""

    before: str
    after: str
    kind: LagKind = LagKind.FINISH_START
    minimum: int | None = None
    maximum: int | None = None


@dataclass(frozen=True, slots=True)
class DayProblem:
    """Tasks to sequence from minute 0 on, so that the last one ends as early as it can.

    Times are whole; what a minute is, the caller says. Raises BadValue where the parts contradict themselves.
    A problem that no order solves is well formed: that is an answer, not a refusal.
    """

    resources: tuple[Resource, ...]
    tasks: tuple[Task, ...]
    lags: tuple[Lag, ...] = ()

    def __post_init__(self) -> None:
        """Refuse the first contradiction."""
        for refusal in find_contradictions(self.resources, self.tasks, lags=self.lags):
            raise BadValue(problem=refusal.problem, remedy=refusal.remedy, value=refusal.value)


def find_contradictions(
    resources: Sequence[Resource], tasks: Sequence[Task], *, lags: Sequence[Lag]
) -> tuple[Refusal, ...]:
    """Return every contradiction in order: names given twice, names nobody has, amounts below zero."""
    return (
        *_twice([resource.name for resource in resources], "Resource"),
        *_twice([task.name for task in tasks], "Task"),
        *(found for resource in resources for found in _check_resource(resource)),
        *(found for task in tasks for found in _check_task(task, {each.name for each in resources})),
        *_unknown_ends(lags, {task.name for task in tasks}),
    )


def _twice(names: Sequence[str], what: str) -> Iterator[Refusal]:
    for name, count in Counter(names).items():
        if count > 1:
            yield Refusal(
                f"{what} {name!r} is given {count} times.", "Give each one a name of its own.", value=name
            )


def _check_resource(resource: Resource) -> Iterator[Refusal]:
    if resource.capacity < 0:
        yield Refusal(
            f"Resource {resource.name!r} is below 0.",
            "Give how many there are, 0 or more.",
            value=str(resource.capacity),
        )


def _check_task(task: Task, resources: set[str]) -> Iterator[Refusal]:
    if task.minutes < 0:
        yield Refusal(
            f"Task {task.name!r} takes less than no time.", "Give 0 or more.", value=str(task.minutes)
        )
    yield from _twice([name for name, _ in task.uses], f"Task {task.name!r}: resource")
    for name, amount in task.uses:
        if name not in resources:
            yield Refusal(
                f"Task {task.name!r} uses {name!r}, which is no resource.",
                f"Name {name!r} among the resources.",
                value=name,
            )
        if amount < 0:
            yield Refusal(
                f"Task {task.name!r} uses less than none of {name!r}.", "Give 0 or more.", value=str(amount)
            )
    for window in task.windows or ():
        if window.end < window.start:
            yield Refusal(
                f"Task {task.name!r} has a window that ends before it starts.",
                "Write each window as [start, end].",
                value=f"[{window.start}, {window.end}]",
            )


def _unknown_ends(lags: Sequence[Lag], tasks: set[str]) -> Iterator[Refusal]:
    for lag in lags:
        for name in dict.fromkeys((lag.before, lag.after)):
            if name not in tasks:
                yield Refusal(
                    f"A lag from {lag.before!r} to {lag.after!r} names {name!r}, which is no task.",
                    "Name a task, as it is written among the tasks.",
                    value=name,
                )
