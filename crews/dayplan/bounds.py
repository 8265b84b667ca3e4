"""How short a plan can be at the very best, from lags alone and from the work that resources can do. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from crews.dayplan.network import Network, NoOrder
from crews.dayplan.problem import Resource, Task, Window


def lower_bound(network: Network) -> int:
    """Return a time that no plan ends before: the larger of critical path and work.

    Raises NoOrder where the work does not fit into the tasks' windows, or a use is above what there is.
    """
    refuse_too_large_uses(network)
    works = (work_bound(network, resource) for resource in network.problem.resources)
    return max([critical_path(network), *works])


def critical_path(network: Network) -> int:
    """Return the longest chain of minutes and lags, from each task's earliest start to the plan's end."""
    return max((sum(pair) for pair in zip(network.earliest, network.tails, strict=True)), default=0)


def work_bound(network: Network, resource: Resource) -> int:
    """Return the time that `resource` needs for all that uses it, counting only minutes that may be worked.

    Identity: the tasks that can't start before h need their work / capacity within worked minutes after h,
    and then the shortest tail among them; the largest over all h holds.
    """
    users = sorted(_users(network, resource), key=lambda user: user[0])
    spans = merge_windows([task for _, _, task in users])
    best, work, tail = 0, 0, network.horizon
    for earliest, after, task in reversed(users):
        work += _work(task, resource)
        tail = min(tail, after)
        end = _end_of_work(spans, start=earliest, needed=-(-work // resource.capacity))
        if end is None:
            raise NoOrder(
                f"{resource.name}: the tasks need {work} minutes of work, more than their windows hold."
            )
        best = max(best, end + tail)
    return best


def refuse_too_large_uses(network: Network) -> None:
    """Raise NoOrder where a task uses more of a resource than there is."""
    capacity = {resource.name: resource.capacity for resource in network.problem.resources}
    for task in network.tasks:
        for name, amount in task.uses:
            if task.minutes > 0 and amount > capacity[name]:
                raise NoOrder(f"{task.name} uses {amount} of {name}; there are {capacity[name]}.")


def merge_windows(tasks: Iterable[Task]) -> tuple[Window, ...] | None:
    """Return the spans in which any of `tasks` may run, in order and apart; None where one has no windows."""
    windows: list[Window] = []
    for task in tasks:
        if task.windows is None:
            return None
        windows += task.windows
    merged: list[Window] = []
    for window in sorted(windows, key=lambda each: each.start):
        if merged and window.start <= merged[-1].end:
            merged[-1] = Window(merged[-1].start, max(merged[-1].end, window.end))
        else:
            merged.append(window)
    return tuple(merged)


def _users(network: Network, resource: Resource) -> Iterator[tuple[int, int, Task]]:
    """Yield earliest start, time that must follow the task's end, and the task, for all that use any."""
    for place, task in enumerate(network.tasks):
        if _work(task, resource) > 0:
            yield network.earliest[place], network.tails[place] - task.minutes, task


def _work(task: Task, resource: Resource) -> int:
    return task.minutes * dict(task.uses).get(resource.name, 0)


def _end_of_work(spans: Sequence[Window] | None, *, start: int, needed: int) -> int | None:
    """Return when `needed` minutes inside `spans` from `start` on are over; None where they never are."""
    if spans is None:
        return start + needed
    for window in spans:
        worked = window.end - max(window.start, start)
        if worked >= needed:
            return max(window.start, start) + needed
        needed -= max(0, worked)
    return None
