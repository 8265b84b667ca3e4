"""What is cut from which roll, and in which order: one material's cut plan as a crew works it. Pure."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from materials.cutlist.strips import Strip
from materials.cutplan.plan import CutPlan
from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll
from materials.cutplan.solve import Clock, plan_cuts
from materials.cutplan.verify import verify
from projects.problems import Problem
from projects.quantities.length import NM_PER_INCH, Length
from projects.quantities.text import format_feet

WORTH_KEEPING = 36 * NM_PER_INCH
"""The shortest leftover that goes back into stock: common practice, no source."""

TO_COME_COSTS = 2
"""A roll that is not there yet counts so many times its price: what lies in the shop is cut first."""


@dataclass(frozen=True, slots=True)
class Source:
    """Rolls of one `length` in nanometres that strips may be cut from, each worth `cost` cents.

    `count` of them lie there; None: they are still to come, as many as are needed. An offcut is one piece.
    """

    name: str
    length: int
    cost: int = 0
    count: int | None = 1
    is_offcut: bool = False


@dataclass(frozen=True, slots=True)
class RollToCut:
    """One roll or offcut, its strips in cutting order, and what is left of it in nanometres."""

    source: Source
    strips: tuple[Strip, ...]

    @property
    def left(self) -> int:
        """Return what is left of it."""
        return self.source.length - sum(strip.length for strip in self.strips)


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The rolls in the order in which they are cut; `problems` say why there are none."""

    rolls: tuple[RollToCut, ...]
    problems: tuple[Problem, ...] = ()


def lay_out(
    strips: Sequence[Strip], sources: Sequence[Source], *, seconds: float, clock: Clock, lap: int = 0
) -> LaidOut:
    """Return the cheapest rolls for all strips, cut from what lies there before what is to come.

    Where there is a `lap`, in nanometres, a strip that may be spliced is made of two where that saves a roll.
    On a roll the longest strip is cut first: what goes wrong can still become a shorter one (common practice,
    no source). A house's rolls stand together.
    """
    wanted = _queues(strips)
    offcuts = {
        f"{source.name} #{number}": source
        for source in sources
        if source.is_offcut
        for number in range(source.count or 0)
    }
    rolls = {source.name: source for source in sources if not source.is_offcut}
    problem = CutProblem(
        rolls=tuple(_roll(source) for source in rolls.values()),
        pieces=tuple(_piece(name, queue, lap=lap) for name, queue in wanted.items()),
        lap=lap,
        offcuts=tuple(Offcut(name, source.length) for name, source in offcuts.items()),
        usable_offcut=WORTH_KEEPING,
    )
    plan = plan_cuts(problem, seconds=seconds, clock=clock)
    if plan.cost is None:
        return LaidOut((), tuple(_why(strips, sources)) or plan.problems)
    broken = verify(problem, plan)
    if broken:
        raise AssertionError(f"the cut plan breaks its rules: {broken}")
    for splice in plan.splices:
        halves = wanted[splice.piece].popleft().spliced(map(int, splice.parts.values()), lap=lap)
        wanted |= {name: deque([half]) for name, half in zip(splice.parts, halves, strict=True)}
    found = list(_rolls(plan, wanted, rolls | offcuts))
    return LaidOut(tuple(sorted(found, key=_turn)))


def _queues(strips: Iterable[Strip]) -> dict[str, deque[Strip]]:
    """Return the strips by a name for each house and length, within it in the given order."""
    queues: dict[str, deque[Strip]] = {}
    for strip in strips:
        name = f"{strip.length} {strip.opening.house}{'' if strip.may_splice else ' in one piece'}"
        queues.setdefault(name, deque()).append(strip)
    return queues


def _piece(name: str, strips: Sequence[Strip], *, lap: int) -> Piece:
    one = strips[0]
    may_splice = bool(lap) and one.may_splice
    return Piece(name, one.length, len(strips), house=one.opening.house, may_splice=may_splice)


def _roll(source: Source) -> Roll:
    if source.count is None:
        return Roll(source.name, source.length, source.cost * TO_COME_COSTS)
    return Roll(source.name, source.length, source.cost, available=source.count)


def _rolls(plan: CutPlan, wanted: dict[str, deque[Strip]], sources: dict[str, Source]) -> Iterator[RollToCut]:
    for cut in plan.cuts:
        for _ in range(cut.times):
            strips = [wanted[name].popleft() for name, count in cut.pieces.items() for _ in range(count)]
            longest_first = sorted(strips, key=lambda strip: (-strip.length, strip.opening.house))
            yield RollToCut(sources[cut.roll], tuple(longest_first))


def _turn(roll: RollToCut) -> tuple[bool, bool, str, int]:
    """Return when a roll is cut: offcuts first, what is to come last, houses together, full rolls first."""
    first = roll.strips[0].opening.house
    return roll.source.count is None, not roll.source.is_offcut, first, roll.left


def _why(strips: Sequence[Strip], sources: Sequence[Source]) -> Iterator[Problem]:
    """Yield the reason that people can act on: no roll at all, or a strip that none can hold."""
    if not sources:
        yield Problem(
            "Nothing lies in stock, and no supplier has a price.", "Add a price, or count the stock."
        )
        return
    longest, length = max(source.length for source in sources), max(strip.length for strip in strips)
    if length > longest:
        strip = next(strip for strip in strips if strip.length == length)
        yield Problem(
            f"The {strip.part} of {strip.opening.mark} is {format_feet(Length(length))} long; "
            f"the longest roll is {format_feet(Length(longest))}.",
            "Add a longer roll to the prices, or allow a splice where the maker does.",
        )
