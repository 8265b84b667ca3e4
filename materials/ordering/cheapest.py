"""The cheapest packs of one material, and all nearly as cheap: an exact search in whole numbers. Pure.

Depth first over the offers, the cheapest for their size first; what is still needed costs at least in
proportion. A pack's weight counts first its price, then its place: of equal prices the lowest places win.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from materials.ordering.kinds import Kind, Terms, Watch, kinds_of
from materials.ordering.offers import Offer, Step

ENDLESS = 1 << 200

Spent = tuple[int, ...]
Needs = tuple[int, ...]
Numbers = tuple[tuple[int, int], ...]
"""(place of an offer, how many packs of it) pairs."""


@dataclass(slots=True)
class Effort:
    """How many steps all searches of one plan may take together: a count, so that answers repeat."""

    left: int

    def share(self, parts: int) -> int:
        """Return so much of what is left, at least a little."""
        return max(100, self.left // parts)


class Found(NamedTuple):
    """A choice of packs and its weight; what is waived where `Watch` looks is not taken off."""

    full: int
    numbers: Numbers


class Search:
    """`found`, by what is spent where `watch` looks: the lightest choice; without a watch just one."""

    def __init__(
        self,
        offers: Sequence[Offer],
        needs: Sequence[int],
        terms: Terms,
        effort: Effort,
        *,
        steps: int,
        watch: Watch | None = None,
    ) -> None:
        self.watched = tuple(watch.caps) if watch else ()
        self.caps = tuple(watch.caps.values()) if watch else ()
        self.relief = tuple(terms.relief(key, 1) for key in self.watched)
        self.limit = watch.limit if watch else ENDLESS
        self.tops = bool(watch and watch.topped)
        self.kinds = kinds_of(offers, len(needs), terms, watch)
        self.is_complete = True
        self.found: dict[Spent, Found] = {}
        self.left = steps
        self._none = (None,) * len(needs)
        self.least = self._rest(0, tuple(needs))
        self._seen: list[dict[tuple[Needs, Spent], int]] = [{} for _ in range(len(self.kinds) + 1)]
        if self.least < ENDLESS:
            self._run(0, tuple(needs), 0, (0,) * len(self.watched), ())
        effort.left -= steps - self.left

    @property
    def proven(self) -> int | None:
        """Return a weight below which there is no choice; None where there is none. Without a watch only."""
        if not self.is_complete:
            return self.least
        return self.limit + 1 if self.found else None

    def _run(self, at: int, needs: Needs, full: int, spent: Spent, numbers: Numbers) -> None:
        """Go through all choices from offer `at` on; `needs` are still open at the end of each stretch."""
        self.left -= 1
        if self.left < 0 and (self.found or self.watched):
            self.is_complete = False
            return
        old = self._seen[at].get((needs, spent))
        if old is not None and old <= full:
            return
        self._seen[at][needs, spent] = full
        is_enough = not any(needs)
        if is_enough:
            self._keep(full, spent, numbers)
        if at == len(self.kinds) or (is_enough and not self.tops):
            return
        kind = self.kinds[at]
        for step, weight, least in reversed(kind.steps):
            for packs in self._worth(at, step, needs, (full, weight, least), spent):
                self._run(
                    at + 1,
                    _after(needs, kind, packs),
                    full + packs * weight,
                    self._spent(kind, spent, packs * step.price),
                    (*numbers, (kind.place, packs)),
                )
        if self._counted(full, spent) + self._rest(at + 1, needs) <= self.limit:
            self._run(at + 1, needs, full, spent, numbers)

    def _worth(
        self, at: int, step: Step, needs: Needs, weights: tuple[int, int, int], spent: Spent
    ) -> Iterator[int]:
        """Yield how many packs of the step may be in a choice within the limit, most promising first.

        What they weigh at least is convex in the number, so the first beyond the limit after one within it
        ends it; or the first where by the last stretch alone each pack fewer only adds weight (`falls`), or
        each one more does (`rises`).
        """
        kind = self.kinds[at]
        full, weight, least = weights
        # what is open before the offer's stretch is bought of others, and serves the later needs too
        enough = -(-(max(needs[kind.since :]) - max(needs[: kind.since], default=0)) // kind.size)
        top = max(step.least, enough) if enough > 0 else 0
        entered = False
        behind = self.kinds[at + 1].ratios[-1] if at + 1 < len(self.kinds) else None
        falls = behind is None or weight * behind[1] <= behind[0] * kind.size
        rises = behind is not None and least * behind[1] >= behind[0] * kind.size
        numbers = range(min(step.most, top), step.least - 1, -1)
        for packs in numbers if falls else reversed(numbers):
            self.left -= 1
            after = _after(needs, kind, packs)
            counted = self._counted(full + packs * weight, self._spent(kind, spent, packs * step.price))
            if counted + self._rest(at + 1, after) <= self.limit:
                entered = True
                yield packs
            elif entered or (
                (rises or (falls and packs < top)) and counted + self._last(at + 1, after) > self.limit
            ):
                break
        if kind.may_top:
            for packs in range(max(top + 1, step.least), step.most + 1):
                self.left -= 1
                sum_ = self._spent(kind, spent, packs * step.price)
                if self._counted(full + packs * weight, sum_) > self.limit:
                    break
                yield packs

    def _rest(self, at: int, needs: Needs) -> int:
        """Return what the offers from `at` on must weigh at least; `ENDLESS` or more where they can't do.

        What is open early is bought of what may serve it, and only what is open beyond that of the rest.
        """
        if len(needs) == 1:
            return self._last(at, needs)
        rest = covered = 0
        for need, ratio in zip(needs, self._ratios(at), strict=True):
            if need > covered:
                if ratio is None:
                    return ENDLESS * 2
                # rounded down but for the last, so that together they are never too much
                rest += (need - covered) * ratio[0] // ratio[1]
                covered = need
        return max(rest, self._last(at, needs))

    def _last(self, at: int, needs: Needs) -> int:
        """Return the same for the needs of the last stretch alone."""
        if not needs[-1]:
            return 0
        ratio = self._ratios(at)[-1]
        return ENDLESS * 2 if ratio is None else -(-needs[-1] * ratio[0] // ratio[1])

    def _ratios(self, at: int) -> tuple[tuple[int, int] | None, ...]:
        return self.kinds[at].ratios if at < len(self.kinds) else self._none

    def _keep(self, full: int, spent: Spent, numbers: Numbers) -> None:
        weight = self._counted(full, spent)
        if weight > self.limit:
            return
        if not self.watched:
            self.limit = weight - 1
        old = self.found.get(spent)
        if old is None or full < old.full:
            self.found[spent] = Found(full, numbers)

    def _spent(self, kind: Kind, spent: Spent, cents: int) -> Spent:
        if kind.at is None:
            return spent
        sum_ = min(self.caps[kind.at], spent[kind.at] + cents)
        return (*spent[: kind.at], sum_, *spent[kind.at + 1 :])

    def _counted(self, full: int, spent: Spent) -> int:
        for relief, cents in zip(self.relief, spent, strict=True):
            full -= relief * cents
        return full


def _after(needs: Needs, kind: Kind, packs: int) -> Needs:
    """Return what is still open after so many packs."""
    if len(needs) == 1:
        return (max(0, needs[0] - packs * kind.size),)
    return tuple(
        need if stretch < kind.since else max(0, need - packs * kind.size)
        for stretch, need in enumerate(needs)
    )
