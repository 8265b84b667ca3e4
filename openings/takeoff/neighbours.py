"""Which rough openings stand too close to each other, or to the wall's end, for strips of their own. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from openings.takeoff.terms import jamb_face
from projects.quantities.length import ZERO_LENGTH, Length
from projects.quantities.text import format_length


def crowded(openings: Sequence[OpeningInput], specification: Specification) -> Iterator[tuple[int, str]]:
    """Yield (index of the opening, notice) for each opening that can't have its own jamb strips.

    Two neighbours need the faces of two jamb strips between their ROs where their heights overlap (heights
    not given count as overlapping); the elevation's left end needs one face.
    Source: strips must lie flat on the wall (common practice).
    """
    face = jamb_face(specification)
    for elevation in _elevations(openings):
        for index in elevation:
            offset = openings[index].offset
            if offset is not None and offset < face:
                yield (
                    index,
                    f"The RO starts {format_length(offset)} from the left end of "
                    f"{openings[index].elevation}; its jamb strip needs {format_length(face)}.",
                )
        yield from _pairs(openings, elevation, face * 2)


def _elevations(openings: Sequence[OpeningInput]) -> Iterable[list[int]]:
    placed: dict[str, list[int]] = {}
    for index, opening in enumerate(openings):
        if opening.offset is not None:
            placed.setdefault(opening.elevation, []).append(index)
    return placed.values()


def _pairs(
    openings: Sequence[OpeningInput], elevation: Sequence[int], need: Length
) -> Iterator[tuple[int, str]]:
    from_left = sorted(elevation, key=lambda index: _left(openings[index]))
    for place, first in enumerate(from_left):
        reach = _right(openings[first]) + need
        for second in from_left[place + 1 :]:
            if _left(openings[second]) >= reach:
                break
            if _heights_overlap(openings[first], openings[second]):
                distance = _left(openings[second]) - _right(openings[first])
                yield first, _words(openings[second].mark, distance, need)
                yield second, _words(openings[first].mark, distance, need)


def _left(opening: OpeningInput) -> Length:
    return opening.offset or ZERO_LENGTH


def _right(opening: OpeningInput) -> Length:
    return _left(opening) + opening.ro_width


def _heights_overlap(one: OpeningInput, other: OpeningInput) -> bool:
    if one.sill_height is None or other.sill_height is None:
        return True
    return (
        one.sill_height < other.sill_height + other.ro_height
        and other.sill_height < one.sill_height + one.ro_height
    )


def _words(mark: str, distance: Length, need: Length) -> str:
    if distance < ZERO_LENGTH:
        return (
            f"Its RO overlaps that of {mark} by {format_length(ZERO_LENGTH - distance)}: check the offsets."
        )
    return (
        f"Only {format_length(distance)} from RO to RO of {mark}; two jamb strips need "
        f"{format_length(need)}. Frame both as one combined opening, or move one."
    )
