"""A roll as a bar to scale, its strips numbered in cutting order, the rest open. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from openings.drawing.shapes import OUTLINE, Drawing, Pen, Rect, Shape, Text, text_width
from projects.quantities.length import Length
from projects.quantities.text import format_feet, format_rounded

WIDTH, HEIGHT = 1040, 44
"""A material's longest roll in drawing units, and each bar's height."""

LETTERS = 16
REST = Pen("beyond", fill="none", width=1, dash="4 3")


def draw_bar(length: int, strips: Sequence[int], *, longest: int, name: str) -> Drawing:
    """Return the bar of one roll; all lengths in nanometres, `longest` is the material's longest roll.

    A strip too short for its words carries its number alone, or nothing.
    """
    rest = length - sum(strips)
    shapes: list[Shape] = []
    begun = 0
    for number, strip in enumerate(strips, 1):
        told = f"{number}  {format_rounded(Length(strip))}"
        shapes += _part(begun, strip, longest, OUTLINE, told, str(number))
        begun += strip
    if rest > 0:
        shapes += _part(begun, rest, longest, REST, f"left {format_feet(Length(rest), nearest=1)}", "left")
    cuts = ", ".join(f"{number}: {format_rounded(Length(strip))}" for number, strip in enumerate(strips, 1))
    return Drawing(WIDTH, HEIGHT, name, f"{cuts}; {format_feet(Length(rest))} are left", tuple(shapes))


def _part(begun: int, length: int, longest: int, pen: Pen, *words: str) -> list[Shape]:
    """Return a part of the bar with the first of `words` that fits it."""
    scale = (WIDTH - 2) / longest
    left, wide = round(1 + begun * scale, 1), round(length * scale, 1)
    box = Rect(left, 1, wide, HEIGHT - 2, pen)
    fitting = [text for text in words if text_width(text, LETTERS) <= wide - 4]
    if not fitting:
        return [box]
    return [box, Text(left + wide / 2, HEIGHT / 2 + 5, fitting[0], LETTERS, "middle")]
