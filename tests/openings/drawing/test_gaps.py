from __future__ import annotations

from dataclasses import replace

from openings.drawing.shapes import Rect
from openings.methods.laps import order_of
from openings.methods.load import load_method
from tests.openings.drawing.sheets import SIZES, drawn, inches, texts


def test_water_runs_out_of_the_pan_unless_the_fin_is_covered():
    method = load_method("B1")
    order = [*order_of(method, method.choices()), "sill cover"]

    drawing = drawn(order=order)

    assert "leak" in texts(drawing)
    assert "weep gaps covered" in texts(drawing)
    assert drawing.notes == ("Membrane over the sill fin closes the weep gaps, and the pan can't drain.",)


def test_weep_gaps_are_gaps_in_the_bead_to_the_units_width():
    drawing = drawn(over_fin="sealed")

    # the sheet is 400 wide, the unit drawn from 44 to 356: 312 for 36 in; a gap of 3 in is 312 x 3/36 = 26
    face_bead = next(s for s in drawing.shapes if isinstance(s, Rect) and s.pen.name == "solid")
    assert (face_bead.x, face_bead.x + face_bead.width) == (70, 330)
    assert texts(drawing).count('3"') == 2


def test_a_wider_unit_has_narrower_gaps_on_the_sheet():
    drawing = drawn(over_fin="sealed", sizes=replace(SIZES, unit_width=inches(72)))

    # 312 x 3/72 = 13
    face_bead = next(s for s in drawing.shapes if isinstance(s, Rect) and s.pen.name == "solid")
    assert (face_bead.x, face_bead.width) == (57, 286)


def test_without_a_pan_the_sill_bead_is_whole():
    drawing = drawn(over_fin="sealed", pan="none")

    face_bead = next(s for s in drawing.shapes if isinstance(s, Rect) and s.pen.name == "solid")
    assert (face_bead.x, face_bead.width) == (44, 312)
    assert "no pan: no weep gaps" in texts(drawing)


def test_no_bead_is_left_where_the_gaps_take_the_whole_sill():
    drawing = drawn(over_fin="sealed", sizes=replace(SIZES, unit_width=inches(6)))

    assert not [s for s in drawing.shapes if isinstance(s, Rect) and s.pen.name == "solid"]
