"""What the drawing tests share: sections of every method, the slabs of a face, a template's output."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path as FilePath

from django.template import Context, Engine

from openings.drawing.section import FACES, draw_section
from openings.drawing.shapes import Text
from openings.drawing.stack import depth_order, pieces_of, section_sizes, stack
from openings.methods.load import load_method
from openings.methods.method import Method
from openings.takeoff.specification import DEFAULT
from projects.quantities.length import Length

ROOT = FilePath(__file__).parents[3]
SIZES = section_sizes(DEFAULT, unit_width=Length.inches(36))


def inches(value):
    """Return a length, exact also for decimal text."""
    return Length.inches(Fraction(value))


def drawn(code="B1", *, order=None, sizes=SIZES, **choices):
    """Return the section of a method."""
    method = load_method(code)
    return draw_section(method, method.choices(**choices), sizes=sizes, order=order)


def slabs_by_face(method: Method, choices, *, sizes=SIZES, order=None):
    """Return the slabs of each face."""
    pieces = pieces_of(method, choices, depth_order(method, choices, order))
    return {face: stack(pieces, face, sizes) for face in FACES}


def texts(drawing):
    """Return what is written on a drawing."""
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def outside(drawing):
    """Return the shapes that stick out of the view box."""
    return [
        shape
        for shape in drawing.shapes
        for x, y in shape.points()
        if not (-0.01 <= x <= drawing.width + 0.01 and -0.01 <= y <= drawing.height + 0.01)
    ]


def overlapping(drawing):
    """Return the pairs of texts whose boxes overlap."""
    boxes = [(shape.text, shape.points()) for shape in drawing.shapes if isinstance(shape, Text)]
    return [
        (one, other)
        for number, (one, ((left, top), (right, bottom))) in enumerate(boxes)
        for other, ((low_x, low_y), (high_x, high_y)) in boxes[number + 1 :]
        if left < high_x and low_x < right and top < high_y and low_y < bottom
    ]


def rendered(drawing):
    """Return the drawing as the template writes it."""
    engine = Engine(dirs=[ROOT / "templates"], libraries={"l10n": "django.templatetags.l10n"})
    return engine.get_template("components/drawing.svg.html").render(Context({"drawing": drawing}))
