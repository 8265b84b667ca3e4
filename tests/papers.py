"""Reads a finished paper as a person holding it would: where each character stands, what its codes open."""

from __future__ import annotations

import io
import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import zxingcpp
from PIL import Image, ImageChops

MM = 72 / 25.4
"""Points in a millimetre: PDF counts 72 to the inch (ISO 32000-1, 8.3.2.3)."""
DPI = 150
STROKE = "\u2044"


@dataclass(frozen=True)
class Box:
    """What a character's ink covers, in points from the page's left and top edge."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def lies_in(self, other: Box, slack: float = 0.5) -> bool:
        return (
            self.left >= other.left - slack
            and self.right <= other.right + slack
            and self.top >= other.top - slack
            and self.bottom <= other.bottom + slack
        )

    def shared_with(self, other: Box) -> float:
        """Return how much of the smaller one's ink both cover, 0 to 1."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        if across <= 0 or down <= 0:
            return 0.0
        return across * down / max(min(self.area, other.area), 1e-9)

    def spoils(self, other: Box) -> bool:
        """Return whether it cannot be read for the other: not a ligature's parts, nor a fraction's stroke."""
        is_one_glyph = (self.left, self.top, self.right) == (other.left, other.top, other.right)
        has_stroke = STROKE in {self.text, other.text}
        return not is_one_glyph and not has_stroke and self.shared_with(other) > 0.3

    @property
    def area(self) -> float:
        return (self.right - self.left) * (self.bottom - self.top)


@dataclass(frozen=True)
class Page:
    width: float
    height: float
    text: str
    ink: tuple[Box, ...]
    picture: Image.Image

    @property
    def codes(self) -> list[str]:
        """Return what the page's QR codes say, read from a grey picture of it."""
        return [found.text for found in zxingcpp.read_barcodes(self.picture.convert("L"))]

    @property
    def colours(self) -> int:
        """Return the greatest difference between red, green and blue of any pixel: 0 is grey throughout."""
        pairs = itertools.combinations(self.picture.convert("RGB").split(), 2)
        return max(int(ImageChops.difference(one, other).getextrema()[1]) for one, other in pairs)

    def inside(self, across_mm: float, down_mm: float) -> Box:
        """Return the page within margins left and right, top and bottom."""
        return Box("", across_mm * MM, down_mm * MM, self.width - across_mm * MM, self.height - down_mm * MM)

    def overprinted(self) -> list[tuple[Box, Box]]:
        """Return pairs of characters that stand on each other: a cell that ran into its neighbour."""
        found: list[tuple[Box, Box]] = []
        standing: list[Box] = []
        for box in sorted(self.ink, key=lambda box: box.top):
            standing = [other for other in standing if other.bottom > box.top]
            found += [(box, other) for other in standing if box.spoils(other)]
            standing.append(box)
        return found


def pages_of(content: bytes) -> list[Page]:
    document = pypdfium2.PdfDocument(io.BytesIO(content))
    return [_page(page) for page in document]


def _page(page: Any) -> Page:
    width, height = page.get_size()
    words = page.get_textpage()
    text = words.get_text_range().replace("\r\n", "\n")
    picture = page.render(scale=DPI / 72).to_pil()
    return Page(width, height, text, tuple(_ink(words, height)), picture)


def _ink(words: Any, height: float) -> Iterator[Box]:
    for number in range(words.count_chars()):
        left, bottom, right, top = words.get_charbox(number)
        text = words.get_text_range(number, 1)
        # what is repeated in the margin stands once more above the page, where no printer reaches
        if text.strip() and right > left and top > bottom and bottom < height:
            yield Box(text, left, height - top, right, height - bottom)
