"""A roll as a bar to scale, its strips numbered in cutting order, the rest open. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from openings.drawing.shapes import FINE, OUTLINE, Drawing, Pen, Rect, Shape, Text, shortened
from projects.quantities.length import Length
from projects.quantities.text import format_feet, format_rounded

WIDTH, HEIGHT = 720, 44
"""The longest roll of a list, in drawing units, and each bar's height."""

LETTERS = 15
REST = Pen("beyond", fill="none", width=1, dash="4 3")


def draw_bar(length: int, strips: Sequence[int], *, longest: int, name: str) -> Drawing:
    """Return the bar of one roll; all lengths in nanometres, `longest` is the list's longest roll.

    A strip too short for its words carries its number alone.
    """
    shapes: list[Shape] = []
    begun = 0
    for number, strip in enumerate(strips, 1):
        left, wide = _units(begun, longest), _units(strip, longest)
        shapes.append(Rect(left, 1, wide, HEIGHT - 2, OUTLINE))
        words = f"{number}  {format_rounded(Length(strip))}"
        told = shortened(words, size=LETTERS, room=wide - 6)
        shapes.append(
            Text(left + wide / 2, HEIGHT / 2 + 5, told if told == words else str(number), LETTERS, "middle")
        )
        begun += strip
    rest = length - begun
    if rest > 0:
        left, wide = _units(begun, longest), _units(rest, longest)
        shapes.append(Rect(left, 1, max(wide - 1, 0), HEIGHT - 2, REST))
        words = shortened(f"left {format_feet(Length(rest))}", size=LETTERS, room=wide - 6)
        if words.startswith("left "):
            shapes.append(Text(left + wide / 2, HEIGHT / 2 + 5, words, LETTERS, "middle"))
    shapes.append(Rect(0, 1, max(_units(length, longest) - 1, 1), HEIGHT - 2, FINE))
    cuts = ", ".join(f"{number}: {format_rounded(Length(strip))}" for number, strip in enumerate(strips, 1))
    return Drawing(WIDTH, HEIGHT, name, f"{cuts}; {format_feet(Length(rest))} are left", tuple(shapes))


def _units(nanometres: int, longest: int) -> float:
    return round(nanometres * WIDTH / longest, 1)
