"""What a schedule would change in a house: openings new, changed, the same, and who is not in it. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields
from enum import StrEnum

from openings.takeoff.opening import OpeningInput

_NOT_COMPARED = {"mark", "row"}  # where a row stands in the file changes nothing in the wall


class Standing(StrEnum):
    """How an opening of the file stands to the house."""

    NEW = "new"
    CHANGED = "changed"
    SAME = "same"


@dataclass(frozen=True, slots=True)
class Compared:
    """One opening of the file; `before` is the house's, `changed` names the fields that differ."""

    opening: OpeningInput
    standing: Standing
    before: OpeningInput | None = None
    changed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Comparison:
    """The file's openings in its order, and the marks of the house that it does not have, sorted."""

    openings: tuple[Compared, ...]
    not_in_file: tuple[str, ...]

    def count(self, standing: Standing) -> int:
        """Return how many openings stand so."""
        return sum(1 for compared in self.openings if compared.standing is standing)


def compare(*, house: Iterable[OpeningInput], schedule: Iterable[OpeningInput]) -> Comparison:
    """Return how the schedule's openings stand to the house's, matched by mark."""
    known = {opening.mark: opening for opening in house}
    compared = tuple(_compared(opening, known.get(opening.mark)) for opening in schedule)
    marks = {entry.opening.mark for entry in compared}
    return Comparison(compared, tuple(sorted(mark for mark in known if mark not in marks)))


def _compared(opening: OpeningInput, before: OpeningInput | None) -> Compared:
    if before is None:
        return Compared(opening, Standing.NEW)
    changed = tuple(
        field.name
        for field in fields(OpeningInput)
        if field.name not in _NOT_COMPARED and _differs(opening, before, field.name)
    )
    return Compared(opening, Standing.CHANGED if changed else Standing.SAME, before, changed)


def _differs(one: OpeningInput, other: OpeningInput, name: str) -> bool:
    left, right = getattr(one, name), getattr(other, name)
    if name == "elevation":  # faces are the same in any case of letters
        return str(left).casefold() != str(right).casefold()
    return bool(left != right)
