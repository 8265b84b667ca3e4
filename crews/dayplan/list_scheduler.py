"""A plan made quickly: tasks are placed one after another, each as early as it fits. Pure.

Serial schedule generation. Where a task placed now must lie further than a maximum lag allows from one placed
before, that one is taken out, pushed later, and all that was placed after it is placed anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from crews.dayplan.network import Network, NoOrder, next_fitting_start
from crews.dayplan.timeline import Timeline

REPAIRS_PER_TASK = 5
# A rank is smaller for a task that is to be placed sooner.
Rank = Sequence[tuple[int, ...]]


def schedule_by_rules(
    network: Network, *, bound: int, is_over: Callable[[], bool] = lambda: False
) -> tuple[int, ...] | None:
    """Return the starts of the shortest plan that any of the priority rules finds; None where none does.

    Stops at a plan as short as `bound`, or where `is_over`. Uses must not be above what there is, and the
    network must have an earliest start for every task.
    """
    best: tuple[int, ...] | None = None
    for rank in ranks(network):
        found = schedule(network, rank, is_over=is_over)
        if found is not None and (best is None or end_of(network, found) < end_of(network, best)):
            best = found
        if is_over() or (best is not None and end_of(network, best) <= bound):
            break
    return best


def end_of(network: Network, starts: Sequence[int]) -> int:
    """Return when the last task ends."""
    return max((start + task.minutes for start, task in zip(starts, network.tasks, strict=True)), default=0)


def ranks(network: Network) -> Iterator[Rank]:
    """Yield the priority rules: longest tail, earliest start, least slack, most work, as given."""
    numbers = range(len(network.tasks))
    work = [sum(amount for _, amount in task.uses) * task.minutes for task in network.tasks]
    follow = [len(arcs) for arcs in network.arcs_from]
    rules: tuple[Callable[[int], tuple[int, ...]], ...] = (
        lambda number: (-network.tails[number], number),
        lambda number: (network.earliest[number], -network.tails[number], number),
        lambda number: (network.earliest[number] - network.tails[number], number),
        lambda number: (network.latest[number], -work[number], number),
        lambda number: (-work[number], number),
        lambda number: (-follow[number], -network.tails[number], number),
        lambda number: (number,),
    )
    for rule in rules:
        yield [rule(number) for number in numbers]


def schedule(
    network: Network, rank: Rank, *, is_over: Callable[[], bool] = lambda: False
) -> tuple[int, ...] | None:
    """Return the starts of the plan that placing by `rank` gives; None where it ends in a dead end.

    A dead end says only that this rank leads to no plan, or that the time `is_over`.
    """
    attempt = _Attempt(network)
    repairs = REPAIRS_PER_TASK * len(network.tasks)
    try:
        while len(attempt.order) < len(network.tasks):
            attempt.place(min(attempt.eligible(), key=rank.__getitem__))
            while (pushed := attempt.first_pushed()) is not None:
                repairs -= 1
                if repairs < 0 or is_over():
                    return None
                attempt.take_out_from(pushed)
    except NoOrder:
        return None
    return tuple(attempt.starts)


class _Attempt:
    """Tasks placed so far, in order, and how early every task may start because of them."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self.order: list[int] = []
        self.starts = [-1] * len(network.tasks)
        self.floors = list(network.earliest)
        self.early = list(network.earliest)
        self.timelines = {each.name: Timeline(each.capacity) for each in network.problem.resources}

    def eligible(self) -> list[int]:
        """Return tasks of which everything that comes before is placed; any where a circle has none."""
        waiting = [number for number, start in enumerate(self.starts) if start < 0]
        ready = [number for number in waiting if not self._has_to_wait(number)]
        return ready or waiting

    def place(self, number: int) -> None:
        """Place a task as early as lags, windows and resources let it. Raises NoOrder where nothing does."""
        start = self._first_fit(number)
        self.starts[number] = start
        self.order.append(number)
        self._use(number, sign=1)
        self.early[number] = start
        self.early = self.network.push_later(self.early, [number])

    def first_pushed(self) -> int | None:
        """Return the first placed task that a later one has pushed beyond its start; None where none is."""
        return next((number for number in self.order if self.early[number] > self.starts[number]), None)

    def take_out_from(self, number: int) -> None:
        """Take out a task and all placed after it, and never again place it as early as it was."""
        self.floors[number] = max(self.floors[number], self.early[number])
        kept = self.order.index(number)
        for gone in self.order[kept:]:
            self._use(gone, sign=-1)
            self.starts[gone] = -1
        del self.order[kept:]
        self.early = list(self.floors)
        for placed in self.order:
            self.early[placed] = self.starts[placed]
        self.early = self.network.push_later(self.early, range(len(self.early)))

    def _has_to_wait(self, number: int) -> bool:
        return any(
            arc.weight >= 0 and arc.before != number and self.starts[arc.before] < 0
            for arc in self.network.arcs_to[number]
        )

    def _first_fit(self, number: int) -> int:
        task = self.network.tasks[number]
        start, settled = self.early[number], False
        while not settled:
            fitting = next_fitting_start(task, start)
            if fitting is None:
                raise NoOrder(f"{task.name} fits none of its windows from minute {start} on.")
            start = fitting
            for name, amount in task.uses:
                if task.minutes and amount:
                    start = self.timelines[name].first_fit(start, minutes=task.minutes, amount=amount)
            settled = start == fitting
        return start

    def _use(self, number: int, *, sign: int) -> None:
        task = self.network.tasks[number]
        for name, amount in task.uses:
            self.timelines[name].take(self.starts[number], minutes=task.minutes, amount=sign * amount)
