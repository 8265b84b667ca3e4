"""Which pieces to cut in two, where that is allowed: those longer than a roll, and some that save one. Pure.

A spliced piece is two pieces from then on, together longer by the lap: the engine itself knows no splices.
"""

from __future__ import annotations

import itertools
import operator
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from materials.cutplan.bound import Cover, Kind, cheapest_cover
from materials.cutplan.fullest import balanced_pattern
from materials.cutplan.plan import Splice
from materials.cutplan.problem import CutProblem, Number, Piece, plain
from materials.cutplan.whole import WholeProblem, in_whole_numbers, kinds_of


def forced_splices(problem: CutProblem) -> tuple[Splice, ...]:
    """Return a splice for each piece that may have one and is longer than all rolls and offcuts.

    The first part is a whole roll. A piece that two of them don't hold either is left as it is.
    """
    longest = problem.longest
    return tuple(
        _splice(problem, piece, first=longest, number=number)
        for piece in problem.pieces
        if piece.may_splice and longest < piece.length <= 2 * longest - problem.lap
        for number in range(1, piece.count + 1)
    )


def spliced(problem: CutProblem, splices: Sequence[Splice]) -> CutProblem:
    """Return the problem with the parts of `splices` as pieces of their own."""
    fewer = Counter(splice.piece for splice in splices)
    houses = {piece.name: piece.house for piece in problem.pieces}
    return replace(
        problem,
        pieces=(
            *(replace(piece, count=piece.count - fewer[piece.name]) for piece in problem.pieces),
            *(
                Piece(name, length, 1, houses[splice.piece])
                for splice in splices
                for name, length in splice.parts.items()
            ),
        ),
    )


def least_cost_with_laps(problem: CutProblem, *, laps: int) -> Number | None:
    """Return what rolls as long as all pieces and so many laps cost at least; None: no rolls are as long.

    Parts may be of any length, so nothing more is proven of plans that splice so often or more.
    """
    whole = in_whole_numbers(problem)
    cover = _cover_with_laps(problem, whole, laps=laps)
    return None if cover is None else plain(Fraction(cover.cost, whole.cost_fineness))


def saving_splices(problem: CutProblem, *, cost: Number | None) -> tuple[Splice, ...]:
    """Return splices with which all pieces fit rolls that cost less than `cost` (None: than anything).

    Empty where none are found.
    """
    whole = in_whole_numbers(problem)
    cover = _cover_with_laps(problem, whole, laps=1)
    if cover is None or (cost is not None and cover.cost >= cost * whole.cost_fineness):
        return ()
    layings = [_Laying(problem, whole, cover, is_thrifty=is_thrifty) for is_thrifty in (False, True)]
    return min((tuple(laying.splices) for laying in layings if laying.fits()), key=len, default=())


def _cover_with_laps(problem: CutProblem, whole: WholeProblem, *, laps: int) -> Cover | None:
    need = sum(map(operator.mul, whole.sizes, whole.counts)) + laps * _extra(problem, whole)
    return cheapest_cover(need, [Kind(stock.room, stock.cost, stock.available) for stock in whole.stocks])


class _Laying:
    """All pieces laid over the rolls of a cover one by one, running over a roll's end where they may.

    Not thrifty, it leaves the end of a roll unused as long as there is length to spare; else only where a lap
    would cost more.
    """

    def __init__(self, problem: CutProblem, whole: WholeProblem, cover: Cover, *, is_thrifty: bool) -> None:
        self.problem = problem
        self.whole = whole
        self.counts = list(whole.counts)
        self.may = [[piece for piece in pieces if piece.may_splice] for pieces in kinds_of(problem).values()]
        self.rooms = [
            stock.room
            for stock, number in zip(whole.stocks, cover.numbers, strict=True)
            for _ in range(number)
        ]
        self.spare = sum(self.rooms) - sum(map(operator.mul, whole.sizes, whole.counts))
        self.lap = _extra(problem, whole)
        self.most_left = self.lap if is_thrifty else self.spare
        self.splices: list[Splice] = []

    def fits(self) -> bool:
        """Lay all pieces; return whether the rolls hold them."""
        begun = 0
        for room, following in itertools.pairwise([*self.rooms, 0]):
            left = room - begun - self._cut(room - begun)
            if left <= min(self.spare, self.most_left) or not any(self.counts):
                self.spare -= left
                begun = 0
            else:
                begun = self._run_over(left, following)
                self.spare -= self.lap
            if self.spare < 0 or begun > following:
                return False
        return not any(self.counts)

    def _cut(self, room: int) -> int:
        """Take the pieces that fill `room` best; return how much they fill."""
        pattern = balanced_pattern(self.whole.sizes, self.counts, room)
        for kind, taken in pattern:
            self.counts[kind] -= taken
        return self.whole.filled(pattern)

    def _run_over(self, left: int, following: int) -> int:
        """Splice a piece over a roll's end; return what lies in the following roll, too much if none can."""
        for kind, size in enumerate(self.whole.sizes):
            over = size + self.lap - left
            if self.counts[kind] and self.may[kind] and self.lap < left < size and over <= following:
                self.counts[kind] -= 1
                self._splice(kind, left)
                return over
        return following + 1

    def _splice(self, kind: int, left: int) -> None:
        piece = self.may[kind][0]
        number = 1 + sum(splice.piece == piece.name for splice in self.splices)
        if number == piece.count:
            self.may[kind].pop(0)
        first = Fraction(left * self.whole.step, self.whole.fineness) - self.problem.kerf
        self.splices.append(_splice(self.problem, piece, first=first, number=number))


def _extra(problem: CutProblem, whole: WholeProblem) -> int:
    """Return in steps what a splice adds to a piece: the lap and another cut."""
    return int((problem.lap + problem.kerf) * whole.fineness) // whole.step


def _splice(problem: CutProblem, piece: Piece, *, first: Number, number: int) -> Splice:
    parts = (plain(first), plain(piece.length + problem.lap - first))
    return Splice(
        piece.name,
        {f"{piece.name}, splice {number}, part {part}": length for part, length in enumerate(parts, start=1)},
    )
