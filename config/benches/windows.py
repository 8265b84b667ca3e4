"""Window schedules as large as wanted: types of window of any number, chosen as houses have them."""

from __future__ import annotations

import csv
import io
import random
from collections.abc import Iterator, Mapping, Sequence

FACES = ("Front", "Left", "Rear", "Right")
SMALLEST, LARGEST = 18 * 16, 72 * 16  # sixteenths of an inch
APART = 24  # inches from one rough opening to the next: more than two jamb strips
COLUMNS = (
    "elevation", "mark", "unit_width", "unit_height", "offset", "sill_height", "method", "over_fin", "fin",
    "corners", "pan", "wall_depth", "mulls", "weight_lb", "glass", "fastener_max", "flags", "note",
)  # fmt: skip

Row = dict[str, str]
Choices = Mapping[str, tuple[Sequence[str], Sequence[int]]]

# how often a house or a window has what: (values, weights); empty is the specification's default
_METHODS = (("", "B", "A1", "A"), (60, 15, 15, 10))
_OVER_FINS = (("", "membrane", "sealed"), (40, 20, 40))
_OF_HOUSE: Choices = {
    "fin": (("", "folding"), (70, 30)),
    "corners": (("", "open"), (70, 30)),
    "wall_depth": (("", "4 7/16", "6 1/2"), (70, 15, 15)),
}
_OF_WINDOW: Choices = {
    "pan": (("", "stretch", "rigid", "none"), (85, 5, 5, 5)),
    "mulls": (("", "1", "2"), (85, 12, 3)),
    "fastener_max": (("", "8"), (90, 10)),
    "flags": (("", "egress", "tempered", "tempered;stair"), (70, 15, 10, 5)),
    "note": (("", "kitchen", "second floor"), (80, 10, 10)),
}


def houses(count: int, *, openings: int, sizes: int, seed: int) -> Iterator[list[Row]]:
    """Yield the rows of `count` houses of so many openings in `sizes` types of window, which take turns.

    No two types of all houses have the same size. The seed decides everything.
    """
    chance = random.Random(seed)  # noqa: S311  # nosec B311 - sizes, not secrets
    side = LARGEST - SMALLEST
    every = iter(chance.sample(range(side * side), count * sizes))
    for _ in range(count):
        of_house = _house(chance)
        types = [of_house | _window(chance, *divmod(next(every), side)) for _ in range(sizes)]
        yield list(_placed(chance, [types[number % sizes] for number in range(openings)]))


def as_csv(rows: Sequence[Row]) -> bytes:
    """Return a window schedule of the rows."""
    written = io.StringIO()
    writer = csv.DictWriter(written, COLUMNS)
    writer.writeheader()
    writer.writerows(rows)
    return written.getvalue().encode()


def _placed(chance: random.Random, openings: Sequence[Row]) -> Iterator[Row]:
    ends = dict.fromkeys(FACES, APART)
    for number, row in enumerate(openings):
        face = FACES[number * len(FACES) // len(openings)]
        place = {"elevation": face, "mark": f"W{number + 1}", "offset": str(ends[face])}
        yield row | place | {"sill_height": str(chance.randrange(20, 60))}
        ends[face] += LARGEST // 16 + APART


def _house(chance: random.Random) -> Row:
    method = _one(chance, _METHODS)
    over_fin = "" if method.startswith("A") else _one(chance, _OVER_FINS)
    return {"method": method, "over_fin": over_fin} | _each(chance, _OF_HOUSE)


def _window(chance: random.Random, width: int, height: int) -> Row:
    row = {
        "unit_width": _inches(SMALLEST + width),
        "unit_height": _inches(SMALLEST + height),
    } | _each(chance, _OF_WINDOW)
    known = chance.choice(("weight_lb", "glass", ""))
    if known:
        row[known] = str(chance.randrange(30, 160)) if known == "weight_lb" else "2x3mm"
    return row


def _inches(sixteenths: int) -> str:
    return f"{sixteenths // 16} {sixteenths % 16}/16"


def _each(chance: random.Random, choices: Choices) -> Row:
    return {name: _one(chance, choice) for name, choice in choices.items()}


def _one(chance: random.Random, choice: tuple[Sequence[str], Sequence[int]]) -> str:
    return chance.choices(*choice)[0]
