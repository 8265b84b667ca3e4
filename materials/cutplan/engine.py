"""The methods that plan cuts, one after another, and the best plan and bound that they have found. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from materials.cutplan.bound import later_bounds, material_cover, weights_above
from materials.cutplan.columns import Rest
from materials.cutplan.dealing import dealt
from materials.cutplan.exhaustive import search_all
from materials.cutplan.gap import Gap
from materials.cutplan.houses import house_by_house
from materials.cutplan.plan import Status
from materials.cutplan.starts import downsized, fillings, first_fits
from materials.cutplan.tidy import tidied
from materials.cutplan.whole import Layout, WholeProblem

Clock = Callable[[], float]


class Engine:
    """Holds the best layouts and the best proven bound while the methods take turns.

    `whole` tells the houses apart; costs and bounds are found on `merged`, which does not.
    """

    def __init__(self, whole: WholeProblem, *, until: float, clock: Clock) -> None:
        self.whole = whole
        self.merged = whole.merged()
        self.until = until
        self.clock = clock
        self.layouts: list[Layout] | None = None
        self.cost = 0
        self.bound = 0
        self.weights: Sequence[int] | None = None

    def run(self) -> Status:
        """Return how far the answer is proven, quick methods first."""
        cover = material_cover(self.merged, self.merged.counts, Rest.of(self.merged).available)
        if cover is None:
            return Status.INFEASIBLE
        self.bound, self.weights = cover.cost, weights_above(self.merged, 0)
        for whole in self.whole.coarse_first():
            self._try_houses(whole)
            self._try_fillings(whole)
            if self._is_proven() or self._is_late():
                break
        self._try_first_fits()
        for prove in (self._search_all, self._raise_bound, self._close_gap):
            if not prove():
                return Status.INFEASIBLE
        if self.layouts is None:
            return Status.OUT_OF_TIME
        self._offer(tidied(self.whole, self.layouts))
        return Status.OPTIMAL if self._is_proven() else Status.FEASIBLE

    def _try_houses(self, whole: WholeProblem) -> None:
        for layouts in house_by_house(whole) if whole.has_houses else ():
            self._offer(tidied(self.whole, downsized(self.whole, layouts)))
            if self._is_late() or (self._is_proven() and self.whole.loses_little(self.layouts or [])):
                return

    def _try_fillings(self, whole: WholeProblem) -> None:
        for layouts in fillings(whole.merged()):
            self._offer(dealt(whole, layouts))
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
        self._prove(self.cost, None)
        return True

    def _raise_bound(self) -> bool:
        """Return False where a later bound proves that no plan exists."""
        if self._is_proven() or self._is_late():
            return True
        for cost, weights in later_bounds(self.merged):
            if cost is None:
                return False
            self._prove(cost, weights)
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
        self._prove(gap.bound, gap.weights)
        return True

    def _prove(self, bound: int, weights: Sequence[int] | None) -> None:
        if bound > self.bound:
            self.bound, self.weights = bound, weights

    def _offer(self, layouts: list[Layout]) -> None:
        if self.layouts is None or self.whole.score(layouts) < self.whole.score(self.layouts):
            self.layouts = layouts
            self.cost = self.whole.score(layouts)[0]

    def _is_proven(self) -> bool:
        return self.layouts is not None and self.cost == self.bound

    def _is_late(self) -> bool:
        return self.clock() >= self.until
