"""Which steps of an opening are done, from what was written down about them; and what a step must wait for.

A record says that a step is done, or takes such a record back; records are never changed. The state is their
fold: it hangs on which records there are, not on the order in which they arrived. Pure.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

Pair = tuple[str, str]
"""Two step codes: what comes first, and what comes after it."""


@dataclass(frozen=True, slots=True)
class Marked:
    """One record about a step. `number` is its own; `takes_back` the number of the record that it undoes."""

    number: int
    step: str
    takes_back: int | None = None


def standing(records: Iterable[Marked]) -> dict[str, tuple[int, ...]]:
    """Return the steps that are done, each with the numbers of the records that say so, the first first.

    Two phones may mark one step: both records stay, and the step is done until both are taken back.
    """
    known = set(records)
    undone = {each.takes_back for each in known}
    found: dict[str, list[int]] = {}
    for each in sorted(known, key=lambda each: each.number):
        if each.takes_back is None and each.number not in undone:
            found.setdefault(each.step, []).append(each.number)
    return {step: tuple(numbers) for step, numbers in found.items()}


def missing_before(
    steps: Collection[str], done: Collection[str], order: Collection[Pair]
) -> tuple[Pair, ...]:
    """Return the pairs that `steps` would break after `done`, those of what is missing itself after them.

    Steps that are marked in one go count as done in their right order.
    """
    broken: list[Pair] = []
    wanted, known = list(steps), {*done, *steps}
    while wanted:
        step = wanted.pop(0)
        own = [pair for pair in order if pair[1] == step and pair[0] not in {*done, *steps}]
        broken += own
        wanted += [first for first, _ in own if first not in known]
        known.update(first for first, _ in own)
    return tuple(dict.fromkeys(broken))


def resting_on(steps: Collection[str], done: Collection[str], order: Collection[Pair]) -> tuple[str, ...]:
    """Return what is done and must come after one of `steps`, so that they can't be taken back before it."""
    return tuple(
        dict.fromkeys(then for first, then in order if first in steps and then in done and then not in steps)
    )
