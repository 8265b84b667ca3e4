"""Which strips an opening has cut from rolls and sticks, by the material they are cut from. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from materials.catalogue.material import Catalogue
from materials.catalogue.meet import PANS, cut_length, material_for
from openings.takeoff.demand import Line
from openings.takeoff.specification import Specification


@dataclass(frozen=True, slots=True)
class Opening:
    """For whom a strip is cut: the opening's key, its house and its mark."""

    key: int
    house: str
    mark: str


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip as it is cut, `length` in nanometres with its trim; `part` and `zone` say where it goes.

    Of a strip that is spliced from two, this is the one with the `number` 1 or 2; both overlap by `lap`, and
    `whole` is what they are long together. A strip in one piece has `number` 0.
    """

    opening: Opening
    part: str
    zone: str
    length: int
    number: int = 0
    whole: int = 0
    lap: int = 0

    @property
    def may_splice(self) -> bool:
        """Return whether it could be made of two: a pan never, and what is spliced not again."""
        return not self.number and self.part not in PANS

    def spliced(self, lengths: Iterable[int], *, lap: int) -> tuple[Strip, ...]:
        """Return the two that it is made of."""
        return tuple(
            replace(self, length=length, number=number, whole=self.length, lap=lap)
            for number, length in enumerate(lengths, 1)
        )

    def other(self) -> Strip:
        """Return the one that this one is spliced with."""
        return replace(self, length=self.whole + self.lap - self.length, number=3 - self.number)


def strips_of(
    opening: Opening, lines: Iterable[Line], specification: Specification, catalogue: Catalogue
) -> Iterator[tuple[str, Strip]]:
    """Yield each strip of an opening's takeoff with its material's key; what nothing meets is left out.

    The takeoff says what nothing meets, so it is not said again here.
    """
    for line in lines:
        need, count = line.need()
        length = cut_length(need, specification)
        material = material_for(need, catalogue)
        if length is None or material is None:
            continue
        for _ in range(count):
            yield material.key, Strip(opening, line.part, line.zone, length.nm)
