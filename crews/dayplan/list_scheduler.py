"""A plan made quickly: tasks are placed one after another, each as early as it fits. Pure.

Serial schedule generation. Where a task placed now lies further than a maximum lag allows from one placed
before, that one is taken out and placed again, later.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from crews.dayplan.network import Arc, Network, NoOrder, next_fitting_start
from crews.dayplan.timeline import Timeline

REPAIRS_PER_TASK = 20
# A rank is smaller for a task that is to be placed sooner.
Rank = Sequence[tuple[int, ...]]


def schedule_by_rules(
    network: Network, *, bound: int, is_over: Callable[[], bool] = lambda: False
) -> tuple[int, ...] | None:
    """Return the starts of the shortest plan that any of the priority rules finds; None where none does.

    Stops at a plan as short as `bound`; where the time `is_over` it still goes on to the first plan. No use
    may be above what there is, and the network must have an earliest start for every task.
    """
    best: tuple[int, ...] | None = None
    for rank in ranks(network):
        found = schedule(network, rank)
        if found is None:
            continue
        # Once more in the order of the starts: what repairs have pushed late moves up again.
        again = schedule(network, [(start,) for start in found])
        best = min(
            (starts for starts in (best, found, again) if starts is not None),
            key=lambda starts: end_of(network, starts),
        )
        if is_over() or end_of(network, best) <= bound:
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


def schedule(network: Network, rank: Rank) -> tuple[int, ...] | None:
    """Return the starts of the plan that placing by `rank` gives; None where it ends in a dead end.

    A dead end says only that this rank leads to no plan within so many repairs.
    """
    attempt = _Attempt(network)
    repairs = REPAIRS_PER_TASK * len(network.tasks)
    try:
        while (ready := attempt.ready()) and repairs >= 0:
            repairs -= attempt.place(min(ready, key=rank.__getitem__))
    except NoOrder:
        return None
    return None if attempt.ready() else tuple(attempt.starts)


class _Attempt:
    """Tasks placed so far, and how early every task may start because of them: that only ever grows."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self.starts = [-1] * len(network.tasks)
        self.early = list(network.earliest)
        self.timelines = {each.name: Timeline(each.capacity) for each in network.problem.resources}
        self.waits_for = [sum(1 for _ in _forerunners(arcs)) for arcs in network.arcs_to]
        self.unplaced = set(range(len(network.tasks)))
        self.free = {number for number in self.unplaced if self.waits_for[number] == 0}

    def ready(self) -> set[int]:
        """Return tasks of which everything that comes before is placed; any where a circle has none."""
        return self.free or self.unplaced

    def place(self, number: int) -> int:
        """Place a task as early as lags, windows and resources let it, and take out those it pushes later.

        Returns how many were taken out. Raises NoOrder where the task fits nowhere.
        """
        self.starts[number] = self.early[number] = self._first_fit(number)
        self._use(number, sign=1)
        self.unplaced.discard(number)
        self.free.discard(number)
        for arc in _forerunners(self.network.arcs_from[number]):
            self.waits_for[arc.after] -= 1
            if self.waits_for[arc.after] == 0 and arc.after in self.unplaced:
                self.free.add(arc.after)
        raised = self.network.push_later(self.early, [number])
        pushed = [each for each in raised if self.early[each] > self.starts[each] >= 0]
        for each in pushed:
            self._take_out(each)
        return len(pushed)

    def _take_out(self, number: int) -> None:
        self._use(number, sign=-1)
        self.starts[number] = -1
        self.unplaced.add(number)
        if self.waits_for[number] == 0:
            self.free.add(number)
        for arc in _forerunners(self.network.arcs_from[number]):
            self.waits_for[arc.after] += 1
            self.free.discard(arc.after)

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


def _forerunners(arcs: Iterable[Arc]) -> Iterator[Arc]:
    """Yield the arcs whose first task is to be placed first: all but maxima and lags of a task on itself."""
    return (arc for arc in arcs if arc.weight >= 0 and arc.before != arc.after)
