"""In which order a crew comes by the openings of its elevations. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable

from crews.dayplan.crew_day.from_method import OpeningFacts

_DIGITS = re.compile(r"([0-9]+)")


def in_walking_order(openings: Iterable[OpeningFacts]) -> tuple[OpeningFacts, ...]:
    """Return the openings house by house and face by face as these first appear, each from left to right.

    Openings without an offset come after the others of their face, by mark: W2 before W10.
    """
    given = list(openings)
    faces = list(dict.fromkeys((opening.house, opening.elevation) for opening in given))
    return tuple(
        sorted(
            given,
            key=lambda opening: (
                faces.index((opening.house, opening.elevation)),
                opening.offset is None,
                opening.offset.nm if opening.offset is not None else 0,
                _natural(opening.mark),
            ),
        )
    )


def _natural(mark: str) -> tuple[tuple[bool, int, str], ...]:
    return tuple(
        (not part.isdigit(), int(part) if part.isdigit() else 0, part) for part in _DIGITS.split(mark)
    )
