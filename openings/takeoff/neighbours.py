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
            if offset is not None and offset.nm < face.nm:
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
    from_left = sorted(elevation, key=lambda index: _left_nm(openings[index]))
    for place, first in enumerate(from_left):
        right_nm = _left_nm(openings[first]) + openings[first].ro_width.nm
        for later in range(place + 1, len(from_left)):
            second = from_left[later]
            distance_nm = _left_nm(openings[second]) - right_nm
            if distance_nm >= need.nm:
                break
            if _heights_overlap(openings[first], openings[second]):
                distance = Length(distance_nm)
                yield first, _words(openings[second].mark, distance, need)
                yield second, _words(openings[first].mark, distance, need)


def _left_nm(opening: OpeningInput) -> int:
    return 0 if opening.offset is None else opening.offset.nm


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
