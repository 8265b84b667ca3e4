"""Plan the cuts: the cheapest rolls for all pieces, with a proven least cost beside it. Pure."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from materials.cutplan.bound import later_bounds, material_cover
from materials.cutplan.columns import Rest
from materials.cutplan.dealing import dealt
from materials.cutplan.exhaustive import search_all
from materials.cutplan.gap import Gap
from materials.cutplan.houses import house_by_house
from materials.cutplan.naming import named_cuts
from materials.cutplan.plan import CutPlan, Status
from materials.cutplan.problem import CutProblem, plain, told
from materials.cutplan.starts import downsized, fillings, first_fits
from materials.cutplan.tidy import tidied
from materials.cutplan.whole import Layout, WholeProblem, in_whole_numbers
from projects.problems import Problem

Clock = Callable[[], float]


def plan_cuts(problem: CutProblem, *, seconds: float, clock: Clock) -> CutPlan:
    """Return the best plan found within `seconds` of `clock` (which counts seconds from any moment).

    At least one plan is tried however short the time. Leftovers of `usable_offcut` break ties of cost.
    """
    begun = clock()
    too_long = _too_long(problem)
    if too_long:
        return CutPlan(Status.INFEASIBLE, clock() - begun, problems=too_long)
    if not any(piece.count for piece in problem.pieces):
        return CutPlan(Status.OPTIMAL, clock() - begun, cost=0, bound=0)
    engine = _Engine(in_whole_numbers(problem), until=begun + seconds, clock=clock)
    status = engine.run()
    if status in (Status.INFEASIBLE, Status.OUT_OF_TIME):
        return CutPlan(status, clock() - begun, problems=(_WHY_NOT[status],))
    fineness = engine.whole.cost_fineness
    return CutPlan(
        status,
        clock() - begun,
        cost=plain(Fraction(engine.cost, fineness)),
        bound=plain(Fraction(engine.bound, fineness)),
        cuts=named_cuts(problem, engine.whole, engine.layouts or []),
    )


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


class _Engine:
    """Holds the best layouts and the best proven bound while the methods take turns.

    `whole` tells the houses apart; costs and bounds are found on `merged`, which does not.
    """

    def __init__(self, whole: WholeProblem, *, until: float, clock: Clock) -> None:
        self.whole = whole
        self.merged = whole.merged() if whole.has_houses else whole
        self.until = until
        self.clock = clock
        self.layouts: list[Layout] | None = None
        self.cost = 0
        self.bound = 0

    def run(self) -> Status:
        """Return how far the answer is proven, quick methods first."""
        cover = material_cover(self.merged, self.merged.counts, Rest.of(self.merged).available)
        if cover is None:
            return Status.INFEASIBLE
        self.bound = cover.cost
        self._try_houses()
        self._try_fillings()
        self._try_first_fits()
        for prove in (self._search_all, self._raise_bound, self._close_gap):
            if not prove():
                return Status.INFEASIBLE
        if self.layouts is None:
            return Status.OUT_OF_TIME
        self._offer(tidied(self.whole, self.layouts))
        return Status.OPTIMAL if self._is_proven() else Status.FEASIBLE

    def _try_houses(self) -> None:
        layouts = house_by_house(self.whole) if self.whole.has_houses else None
        if layouts is not None:
            self._offer(tidied(self.whole, downsized(self.whole, layouts)))

    def _try_fillings(self) -> None:
        for layouts in fillings(self.merged):
            self._offer(dealt(self.whole, layouts))
            if self._is_proven() or self._is_late():
                return

    def _try_first_fits(self) -> None:
        if self._is_proven() or (self.layouts is not None and self._is_late()):
            return
        for layouts in first_fits(self.merged):
            self._offer(dealt(self.whole, layouts))

    def _search_all(self) -> bool:
        """Return False where going through everything proves that no plan exists."""
        finding = None if self._is_late() else search_all(self.merged)
        if finding is None:
            return True
        if finding.layouts is None:
            return False
        self._offer(dealt(self.whole, finding.layouts))
        self.bound = self.cost
        return True

    def _raise_bound(self) -> bool:
        """Return False where a later bound proves that no plan exists."""
        if self._is_proven() or self._is_late():
            return True
        for cost in later_bounds(self.merged):
            if cost is None:
                return False
            self.bound = max(self.bound, cost)
            if self._is_proven() or self._is_late():
                break
        return True

    def _close_gap(self) -> bool:
        """Return False where the columns prove that no plan exists."""
        if self._is_proven() or self._is_late():
            return True
        gap = Gap(self.merged, self.cost if self.layouts else None, bound=self.bound, is_late=self._is_late)
        gap.close()
        if gap.layouts is not None:
            self._offer(dealt(self.whole, gap.layouts))
        if gap.bound is None:
            return False
        self.bound = max(self.bound, gap.bound)
        return True

    def _offer(self, layouts: list[Layout]) -> None:
        if self.layouts is None or self.whole.score(layouts) < self.whole.score(self.layouts):
            self.layouts = layouts
            self.cost = self.whole.score(layouts)[0]

    def _is_proven(self) -> bool:
        return self.layouts is not None and self.cost == self.bound

    def _is_late(self) -> bool:
        return self.clock() >= self.until


def _too_long(problem: CutProblem) -> tuple[Problem, ...]:
    """Return a problem for each piece that no roll or offcut can hold."""
    lengths = [offcut.length for offcut in problem.offcuts]
    lengths += [roll.length for roll in problem.rolls if roll.available != 0]
    longest = max(lengths, default=0)
    limit = f"the longest roll or offcut is {told(longest)}" if lengths else "there is no roll or offcut"
    return tuple(
        Problem(
            f"{piece.name!r} is {told(piece.length)} long; {limit}.",
            "Add a longer roll, or split the piece where a splice is allowed.",
            value=told(piece.length),
        )
        for piece in problem.pieces
        if piece.count and piece.length > longest
    )
