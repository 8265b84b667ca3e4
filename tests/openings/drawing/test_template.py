from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from django.utils import translation

from openings.drawing.elevation import draw_elevation
from openings.drawing.placing import DrawnElevation
from openings.drawing.section import draw_section
from openings.methods.load import load_method
from tests.openings.drawing.sheets import ROOT, SIZES, rendered
from tests.openings.drawing.test_elevation import FRONT, opening

NASTY = "<script>alert(1)</script>&\"'"


@pytest.fixture
def section():
    method = load_method("B1")
    return draw_section(method, method.choices(over_fin="sealed", corners="open"), sizes=SIZES)


def test_a_drawing_is_an_image_with_title_and_description(section):
    root = ElementTree.fromstring(rendered(section))

    assert root.get("role") == "img"
    assert root.find("{*}title").text == "Section, method B1"
    assert root.find("{*}desc").text.startswith("Jamb strips behind the side fins, WRB before the window.")
    assert root.get("viewBox") == f"0 0 {section.width} {section.height}"


def test_every_shape_is_written_once(section):
    root = ElementTree.fromstring(rendered(section))

    shapes = [element for element in root if element.tag.split("}")[1] not in ("title", "desc")]
    assert len(shapes) == len(section.shapes)


@pytest.mark.parametrize("mark", [NASTY, "]]>", "{{ mark }}", "W1\u202e"])
def test_a_mark_is_escaped_by_the_template(mark):
    face = DrawnElevation("Front", (opening(mark, 400, 60, offset=20, sill=30),))
    drawing = replace(draw_elevation(face), title=mark, description=mark)

    text = rendered(drawing)

    root = ElementTree.fromstring(text)
    assert "<script" not in text
    assert root.find("{*}title").text == mark
    assert mark in [element.text for element in root.iter() if element.tag.endswith("text")]


def test_no_shape_carries_a_style_or_an_address(section):
    for drawing in (section, draw_elevation(FRONT)):
        root = ElementTree.fromstring(rendered(drawing))
        for element in root.iter():
            assert not {"style", "href", "id", "onload"} & set(element.keys())


def test_numbers_keep_their_point_where_the_language_has_a_comma(section):
    with translation.override("de"):
        text = rendered(section)

    assert text == rendered(section)
    assert 'stroke-width="1.2"' in text


def test_every_pen_has_its_class_in_the_stylesheet(section):
    css = (ROOT / "static" / "css" / "drawing.css").read_text(encoding="utf-8")

    names = {shape.pen.name for drawing in (section, draw_elevation(FRONT)) for shape in drawing.shapes}

    assert {name for name in names if f".pen-{name}" not in css} == set()
