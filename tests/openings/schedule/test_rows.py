"""Rows: marks, counts, choices, weights, glass, flags, notes, and several problems at once."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.methods.load import load_methods
from openings.takeoff.opening import GlassPanes
from openings.takeoff.specification import DEFAULT
from projects.quantities.length import Length
from projects.quantities.mass import Mass
from tests.openings.schedule.builders import SIZED, good, read, read_row, refused

METHOD_A = replace(DEFAULT, method="A")


@pytest.mark.parametrize(
    ("column", "value", "expected"),
    [
        ("fin", "fixed", "fixed"), ("fin", "FOLDING", "folding"), ("fin", " Folding ", "folding"),
        ("fin", "Fixed fin", "fixed"), ("fin", "", None), ("fin", "yes", None),
        ("corners", "Welded", "welded"), ("corners", "OPEN", "open"), ("corners", "", None),
        ("corners", "-", None),
        ("method", "a1", "A1"), ("method", "B", "B"), ("method", "Method B1", "B1"), ("method", "", None),
        ("over_fin", "Membrane", "membrane"), ("over_fin", "none", "none"), ("over_fin", "SEALED", "sealed"),
        ("pan", "Stretch", "stretch"), ("pan", "none", "none"), ("pan", "RIGID", "rigid"), ("pan", "", None),
        ("head_fasteners", "Yes", "yes"), ("head_fasteners", "N", "no"), ("head_fasteners", "Y", "yes"),
        ("head_fasteners", "TRUE", "yes"), ("head_fasteners", "Loose", "loose"), ("head_fasteners", "", None),
    ],
)  # fmt: skip
def test_choice_is_read_in_any_case(column: str, value: str, expected: str | None) -> None:
    assert getattr(good(read_row(column, value)), column) == expected


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("fin", "none"), ("fin", "No"), ("fin", "no fin"), ("fin", "n/a"), ("fin", "block frame"),
        ("fin", "maybe"),
        ("fin", "-"), ("corners", "mitred"), ("method", "C"), ("method", "B2"), ("method", "A 1"),
        ("over_fin", "tape"), ("pan", "yes"), ("head_fasteners", "some"), ("shape", "arch"),
        ("shape", "Half-round"),
        ("shape", "octagon"), ("shape", "door"),
    ],
)  # fmt: skip
def test_unknown_choice_is_refused_in_words(column: str, value: str) -> None:
    reading = read_row(column, value)

    assert refused(reading) == [(2, column)]
    assert reading.problems[0].value == value
    assert reading.problems[0].remedy


def test_unit_without_a_fin_is_refused_with_the_reason() -> None:
    (problem,) = read_row("fin", "none").problems

    assert "no fin" in problem.problem


@pytest.mark.parametrize("shape", ["rectangle", "Rectangular", "RECT", "square", "", "-"])
def test_rectangle_is_the_shape_that_is_read(shape: str) -> None:
    assert good(read_row("shape,count", f"{shape},1")).mark == "W1"


@pytest.mark.parametrize("method", ["A", "A1"])
@pytest.mark.parametrize("over_fin", ["none", "sealed"])
def test_methods_a_refuse_another_over_fin_detail(method: str, over_fin: str) -> None:
    reading = read_row("method,over_fin", f"{method},{over_fin}")

    assert refused(reading) == [(2, "over_fin")]
    assert "its own jamb strips cover the side fins" in reading.problems[0].problem


def test_every_method_that_has_a_file_can_be_named() -> None:
    for code in load_methods():
        assert good(read_row("method", code.lower())).method == code


def test_over_fin_is_held_against_the_specifications_method() -> None:
    assert refused(read_row("over_fin", "sealed", specification=METHOD_A)) == [(2, "over_fin")]
    assert good(read_row("over_fin", "membrane", specification=METHOD_A)).over_fin == "membrane"
    assert good(read_row("method,over_fin", "B1,sealed", specification=METHOD_A)).method == "B1"


@pytest.mark.parametrize("kind", ["Patio door", "DOOR", "Arched top", "Half round", "Insert", "Skylight"])
def test_type_column_is_only_looked_at_for_what_is_no_window(kind: str) -> None:
    reading = read_row("type", kind)

    assert refused(reading) == [(2, "shape")]
    assert "read" in reading.problems[0].problem


@pytest.mark.parametrize("kind", ["SH", "XOX", "FX", "Casement", "Outdoorsy", "Architectural series"])
def test_usual_types_are_no_problem(kind: str) -> None:
    assert good(read_row("type", kind)).mark == "W1"


def test_makers_schedule_and_wall_are_read() -> None:
    reading = read_row("wall_depth,fastener_corner,fastener_max,mulls", "7 1/4,4,16,2")
    opening = good(reading)

    assert opening.wall_depth == Length.inches(Fraction(29, 4))
    assert (opening.fastener_corner, opening.fastener_max) == (Length.inches(4), Length.inches(16))
    assert opening.mulls == 2


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("wall_depth", "0"), ("wall_depth", "25"), ("fastener_max", "0"), ("fastener_max", "49"),
        ("fastener_corner", "0"), ("fastener_corner", "25"), ("mulls", "-1"), ("mulls", "1.5"),
        ("mulls", "21"),
        ("mulls", "many"), ("wall_depth", "2-6"), ("weight_lb", "0"), ("weight_lb", "-5"),
        ("weight_lb", "NaN"),
        ("weight_lb", "5001"), ("weight_lb", "heavy"), ("weight_lb", "1e3"), ("weight_lb", "٣"),
        ("glass", "2x3"),
        ("glass", "3mm"), ("glass", "0x3mm"), ("glass", "7x3mm"), ("glass", "2x0mm"), ("glass", "2x26mm"),
        ("glass", "Low-E"), ("glass", "2x3x4mm"),
    ],
)  # fmt: skip
def test_measure_out_of_range_is_refused_with_the_range(column: str, value: str) -> None:
    assert refused(read_row(column, value)) == [(2, column)]


@pytest.mark.parametrize(
    ("text", "weight"),
    [("62.5", Mass.pounds(Fraction("62.5"))), ("45 lb", Mass.pounds(45)), ("45 LBS.", Mass.pounds(45)),
     ("45#", Mass.pounds(45)), ("20 kg", Mass.kg(20)), ("", None)],
)  # fmt: skip
def test_weight_is_pounds_unless_it_says_kilograms(text: str, weight: Mass | None) -> None:
    assert good(read_row("weight_lb", text)).weight == weight


def test_weight_column_in_kilograms_is_said() -> None:
    reading = read_row("Weight (kg)", "20")

    assert good(reading).weight == Mass.kg(20)
    assert any("“Weight (kg)”: numbers without a unit are kg" in notice for notice in reading.notices)


@pytest.mark.parametrize(
    ("text", "panes", "thickness"),
    [("2x3mm", 2, Length.mm(3)), ("2 X 4 mm", 2, Length.mm(4)), ("3×6MM", 3, Length.mm(6)),
     ("2x3.2mm", 2, Length.mm(Fraction("3.2"))), ('2x1/8"', 2, Length.inches(Fraction(1, 8)))],
)  # fmt: skip
def test_glass_is_panes_and_thickness(text: str, panes: int, thickness: Length) -> None:
    assert good(read_row("glass", text.replace('"', '""').join('""'))).glass == GlassPanes(panes, thickness)


def test_flags_are_split_at_semicolons_as_typed() -> None:
    assert good(read_row("flags", "tempered; Egress ;;stair")).flags == ("tempered", "Egress", "stair")
    assert good(read_row("flags", "")).flags == ()


@pytest.mark.parametrize("flags", ["a\x00b", "two\nlines", "A" * 65, ";".join(str(n) for n in range(21))])
def test_flags_that_cannot_be_stored_are_refused(flags: str) -> None:
    assert refused(read_row("flags", f'"{flags}"')) == [(2, "flags")]


@pytest.mark.parametrize(
    "note", ["  two  spaces ", "line\nbreak", "=SUM(A1)", "tab\there", "א\u202eב", "木", "-"]
)
def test_note_is_kept_as_typed(note: str) -> None:
    assert good(read_row("note", f'"{note}"')).note == note


@pytest.mark.parametrize("note", ["a\x00b", "bell\x07", "x" * 2001])
def test_note_that_cannot_be_stored_is_refused(note: str) -> None:
    assert refused(read_row("note", note)) == [(2, "note")]


def test_elevation_is_one_line_of_up_to_64_characters() -> None:
    columns = "elevation,mark,unit_width,unit_height\n"
    assert read(f'{columns}" North \n side ",W1,36,60\n').openings[0].elevation == "North side"
    assert refused(read(f"{columns}{'N' * 65},W1,36,60\n")) == [(2, "elevation")]
    assert refused(read(f"{columns}No\x00rth,W1,36,60\n")) == [(2, "elevation")]


def test_missing_elevation_is_unplaced_and_said_once() -> None:
    rows = "".join(f"W{number},36,60\n" for number in range(12))
    reading = read(f"{SIZED}\n{rows}")

    assert {opening.elevation for opening in reading.openings} == {"Unplaced"}
    told = [notice for notice in reading.notices if "Unplaced" in notice]
    assert len(told) == 1
    assert told[0].startswith("Rows 2, 3, 4, 5, 6, 7, 8, 9 and 4 more: no elevation is named")


def test_one_row_may_have_several_problems_and_yields_no_opening() -> None:
    reading = read(f"{SIZED},count,fin,method\n,abc,999,0,none,Z\n")

    assert refused(reading) == [
        (2, "count"), (2, "mark"), (2, "unit_width"), (2, "unit_height"), (2, "fin"), (2, "method"),
    ]  # fmt: skip
    assert reading.openings == ()


def test_bad_row_keeps_its_cells_and_reasons_for_the_download() -> None:
    reading = read("mark,U-value,unit_width,unit_height\nW1,0.3,36,60\nW2,0.28,abc,0\n")

    (bad,) = reading.bad_rows
    assert (bad.row, bad.cells) == (3, ("W2", "0.28", "abc", "0"))
    assert reading.header_cells == ("mark", "U-value", "unit_width", "unit_height")
    assert "unit_width: “abc” is not a length." in bad.reason
    assert "unit_height: " in bad.reason
    assert reading.as_read(bad) == {"mark": "W2", "unit_width": "abc", "unit_height": "0"}


def test_good_rows_are_kept_as_read_for_the_preview() -> None:
    reading = read(f"{SIZED},count\nR,36 1/2,5',2\n")

    (row,) = reading.row_readings
    assert reading.as_read(row) == {"mark": "R", "unit_width": "36 1/2", "unit_height": "5'", "count": "2"}
    assert row.openings == reading.openings
    assert [opening.row for opening in reading.openings] == [2, 2]


def test_notes_that_speak_of_mulls_or_arches_are_pointed_out() -> None:
    reading = read(f"{SIZED},note\nW1,36,60,factory mulled\nW2,36,60,arched head\nW3,36,60,bath\n")

    assert reading.problems == ()
    assert any("Row 2: the note speaks of mulls" in notice for notice in reading.notices)
    assert any("Row 3: the note speaks of another shape" in notice for notice in reading.notices)


def test_same_file_is_read_the_same_every_time() -> None:
    text = f"{SIZED},count\nR,36,60,3\nbad,x,60,1\n"

    assert read(text) == read(text)


@given(st.text(alphabet=st.characters(exclude_categories=("Cs",)), max_size=200))
@settings(deadline=None)
def test_any_note_is_kept_byte_for_byte_or_refused(note: str) -> None:
    cell = note.replace('"', '""')
    reading = read(f'mark,unit_width,unit_height,note\nW1,36,60,"{cell}"\n')

    if not reading.problems:
        expected = "" if not note.strip() else note
        assert reading.openings[0].note in (note, expected)
