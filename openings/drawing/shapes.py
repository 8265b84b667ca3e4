"""What a drawing is made of: shapes in drawing units in a view box, for a template to write out. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar, Literal

from projects.quantities.length import Length

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]
WIDE, WIDE_BOLD = 0.6, 0.68  # of the size, per letter


@dataclass(frozen=True, slots=True)
class Pen:
    """How a shape is drawn: `name` for the stylesheet, the rest for paper, where no stylesheet reaches.

    `dash` is in drawing units; an empty one is a whole line.
    """

    name: str
    stroke: str = "#111"
    fill: str = "none"
    width: float = 1.0
    dash: str = ""


OUTLINE = Pen("outline", fill="#fff", width=1.2)
BEYOND = Pen("beyond", fill="#fff", width=0.9, dash="4 3")
FINE = Pen("fine", width=0.7)
LINE = Pen("line", width=1.2)
HEAVY = Pen("heavy", width=2.4)
SOLID = Pen("solid", fill="#111", width=0.6)
TIMBER = Pen("timber", fill="#fff", width=1.0)
LEADER = Pen("leader", width=0.7)
WATER = Pen("water", width=1.8, dash="0.1 4.2")
LEAK = Pen("leak", stroke="#a00", width=2.0)
LEAK_LINE = Pen("leak", stroke="#a00", width=2.0, dash="1 4")
LEAK_MARK = Pen("leak-mark", stroke="#a00", fill="#fff", width=2.0)
BLANK = Pen("blank", stroke="none", fill="#fff")
TEXT = Pen("text", stroke="none", fill="#111")
LEAK_TEXT = Pen("leak-text", stroke="none", fill="#a00")


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its upper left corner."""

    kind: ClassVar[str] = "rect"
    x: float
    y: float
    width: float
    height: float
    pen: Pen

    def points(self) -> tuple[Point, ...]:
        """Return its corners."""
        return ((self.x, self.y), (self.x + self.width, self.y + self.height))


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points; `closed` makes it a face. Several `strokes` share one pen: a hatch."""

    kind: ClassVar[str] = "path"
    strokes: tuple[tuple[Point, ...], ...]
    pen: Pen
    closed: bool = False

    @property
    def moves(self) -> str:
        """Return the path's text: where the pen is put down and drawn to."""
        end = "Z" if self.closed else ""
        return " ".join(
            "M" + "L".join(f"{round(x, 1):g} {round(y, 1):g}" for x, y in stroke) + end
            for stroke in self.strokes
        )

    def points(self) -> tuple[Point, ...]:
        """Return all points of all strokes."""
        return tuple(point for stroke in self.strokes for point in stroke)


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    kind: ClassVar[str] = "circle"
    x: float
    y: float
    radius: float
    pen: Pen

    def points(self) -> tuple[Point, ...]:
        """Return the corners of the square around it."""
        return (self.x - self.radius, self.y - self.radius), (self.x + self.radius, self.y + self.radius)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; `y` is its baseline. `upright` text is turned to read from below."""

    kind: ClassVar[str] = "text"
    x: float
    y: float
    text: str
    size: float
    anchor: Anchor = "start"
    bold: bool = False
    upright: bool = False
    pen: Pen = TEXT

    def points(self) -> tuple[Point, ...]:
        """Return two corners of the box that the text takes up, near enough."""
        wide = text_width(self.text, self.size, bold=self.bold)
        left = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        if self.upright:
            return (
                (self.x - 0.8 * self.size, self.y + left - wide),
                (self.x + 0.2 * self.size, self.y + left),
            )
        return (
            (self.x - left, self.y - 0.8 * self.size),
            (self.x - left + wide, self.y + 0.2 * self.size),
        )


Shape = Rect | Path | Circle | Text


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """One number of a section: the layer, its material, what it lies over, and whether a reversed lap is its.

    `width` is a strip's; None where the layer is no strip.
    """

    number: int
    name: str
    material: str
    width: Length | None
    lies_over: tuple[str, ...]
    is_reversed: bool
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes in a view box from 0, 0. `title` names it, `description` tells it to who can't see it."""

    width: float
    height: float
    title: str
    description: str
    shapes: tuple[Shape, ...]
    legend: tuple[LegendEntry, ...] = ()
    notes: tuple[str, ...] = ()


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return about how wide `text` is in a plain sans serif: an estimate on the wide side."""
    return (WIDE_BOLD if bold else WIDE) * size * len(text)


def lettered(text: Text) -> tuple[Shape, ...]:
    """Return the text on a blank of its own size, so that it reads over lines."""
    (left, top), (right, bottom) = text.points()
    return Rect(left - 2, top - 1, right - left + 4, bottom - top + 2, BLANK), text


def shortened(text: str, *, size: float, room: float, bold: bool = False) -> str:
    """Return `text`, or as much of it as `room` holds with an ellipsis; its first letter always."""
    if text_width(text, size, bold=bold) <= room:
        return text
    letters = int(room / text_width("0", size, bold=bold))
    return text[: letters - 1] + "…" if letters > 1 else text[:1]


def moved(shape: Shape, *, across: float = 0.0, down: float = 0.0) -> Shape:
    """Return the shape elsewhere."""
    if isinstance(shape, Path):
        strokes = tuple(tuple((x + across, y + down) for x, y in stroke) for stroke in shape.strokes)
        return replace(shape, strokes=strokes)
    return replace(shape, x=shape.x + across, y=shape.y + down)
