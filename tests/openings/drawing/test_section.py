from __future__ import annotations

import shutil
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.drawing.section import draw_section
from openings.drawing.shapes import Circle, Path, Rect, Text
from openings.methods.laps import check_order, order_of
from openings.methods.load import FOLDER, load_method, load_methods
from projects.errors import BadValue
from tests.openings.drawing.sheets import SIZES, drawn, inches, outside, overlapping, slabs_by_face, texts
from tests.openings.methods.cases import ALL, every_choice

EVERY = every_choice()


def moved_before(order, name, other):
    """Return the order with `name` put on just before `other`."""
    rest = [each for each in order if each != name]
    rest.insert(rest.index(other), name)
    return rest


def pens(drawing):
    """Return the names of the pens used."""
    return {shape.pen.name for shape in drawing.shapes}


@pytest.mark.parametrize("code", ALL)
def test_every_layer_has_one_number_in_the_legend_and_on_the_sheet(code):
    method = load_method(code)
    for of, chosen in EVERY:
        if of != code:
            continue
        choices = method.choices(**chosen)

        drawing = draw_section(method, choices, sizes=SIZES)

        numbers = {int(text) for text in texts(drawing) if text.isdigit()}
        assert [entry.name for entry in drawing.legend] == list(order_of(method, choices)), chosen
        assert numbers == {entry.number for entry in drawing.legend} == set(range(1, len(numbers) + 1))


@pytest.mark.parametrize("code", ALL)
def test_what_laps_over_is_drawn_outboard_of_what_lies_under(code):
    method = load_method(code)
    seen = set()
    for of, chosen in EVERY:
        if of != code:
            continue
        choices = method.choices(**chosen)
        for slabs in slabs_by_face(method, choices).values():
            for lap in method.laps:
                if not lap.when.holds(choices):
                    continue
                for over in (slab for slab in slabs if slab.piece.name == lap.over):
                    for under in (slab for slab in slabs if slab.piece.name == lap.under):
                        start, end = max(over.start, under.start), min(over.end, under.end)
                        if start < end:
                            middle = (start + end) / 2
                            assert over.depth > under.depth
                            assert over.inner_at(middle) >= under.outer_at(middle)
                            seen.add((lap.over, lap.under))
    # most of the table shows on a face; the rest meets only at corners beside the cuts
    assert len(seen) >= 0.8 * len(method.laps)


@pytest.mark.parametrize("code", ["A", "B"])
def test_wrb_below_is_drawn_tucked_behind_the_sill_strip(code):
    method = load_method(code)
    slabs = {slab.piece.name: slab for slab in slabs_by_face(method, method.choices())["sill"]}

    # the sill strip is 9 wide, the WRB comes up to 4 above its lower edge
    assert slabs["wrb below"].start == 5
    assert slabs["sill strip"].inner_at(7) >= slabs["wrb below"].outer_at(7)


def test_a_changed_lap_in_the_file_changes_the_drawing(tmp_path):
    folder = tmp_path / "methods"
    shutil.copytree(FOLDER, folder)
    file = folder / "B1.toml"
    text = file.read_text(encoding="utf-8")
    # the jamb strip moves from behind the fin to over it: its lap, its place among layers and steps
    text = text.replace('over = "unit"\nunder = "jamb strip"', 'over = "jamb strip"\nunder = "unit"')
    text = text.replace('"pan corner", "jamb strip", ', '"pan corner", ')
    text = text.replace('"fasteners", "corner patch", ', '"fasteners", "jamb strip", "corner patch", ')
    text = text.replace('"pan", "jamb-strips", ', '"pan", ').replace('"look", ', '"look", "jamb-strips", ')
    file.write_text(text, encoding="utf-8")
    before, after = load_method("B1"), load_methods(folder)["B1"]

    was = {slab.piece.name: slab for slab in slabs_by_face(before, before.choices())["jamb"]}
    now = {slab.piece.name: slab for slab in slabs_by_face(after, after.choices())["jamb"]}

    assert was["unit"].inner_at(0.5) >= was["jamb strip"].outer_at(0.5)
    assert now["jamb strip"].inner_at(0.5) >= now["unit"].outer_at(0.5)
    assert (
        draw_section(before, before.choices(), sizes=SIZES).shapes
        != draw_section(after, after.choices(), sizes=SIZES).shapes
    )


def test_a_legal_section_has_water_and_no_leak():
    for code in ALL:
        drawing = drawn(code)
        assert "water" in pens(drawing)
        assert not {"leak", "leak-mark", "leak-text"} & pens(drawing)
        assert not any(entry.is_reversed for entry in drawing.legend)


def test_a_reverse_lap_breaks_the_water_and_is_marked_in_words():
    method = load_method("B1")
    order = moved_before(order_of(method, method.choices()), "head flap", "head strip")

    drawing = drawn(order=order)

    assert texts(drawing).count("leak") == 1
    assert {entry.name for entry in drawing.legend if entry.is_reversed} == {"head flap", "head strip"}
    assert drawing.notes[0].startswith("Reverse lap: head flap must lie over head strip.")
    whole, broken = (
        next(path for path in sheet.shapes if path.pen.name == "water") for sheet in (drawn(), drawing)
    )
    assert len(broken.points()) < len(whole.points())


def test_reverse_laps_at_one_place_share_a_mark():
    method = load_method("B1")
    order = moved_before(order_of(method, method.choices()), "jamb strip", "sill strip")

    drawing = drawn(order=order)

    # jamb strip behind the sill strip, the pan and the pan corner, all from the edge of the opening down
    assert "3 leaks" in texts(drawing)
    assert len(drawing.notes) == 3


def test_a_wider_sill_strip_reaches_further_down():
    method = load_method("B1")

    slabs = slabs_by_face(method, method.choices(), sizes=replace(SIZES, sill_strip_width=inches(12)))

    strip = next(slab for slab in slabs["sill"] if slab.piece.name == "sill strip")
    assert (strip.start, strip.end) == (0, 12)


def test_a_left_out_head_strip_is_said_to_need_a_name():
    drawing = drawn("A1", head_strip=False)

    assert drawing.notes == (
        "No head strip: a named person and the window maker's sheet must stand behind it.",
    )


def test_a_part_of_an_order_is_drawn_as_far_as_it_goes():
    drawing = drawn(order=["sill strip", "pan"])

    assert [entry.name for entry in drawing.legend] == ["sill strip", "pan"]
    assert outside(drawing) == []


def test_nothing_put_on_yet_is_a_bare_wall():
    drawing = drawn(order=[])

    assert drawing.legend == ()
    assert "water" not in {s.pen.name for s in drawing.shapes if s.points()[0][1] < drawing.height - 200}


def test_a_repeated_layer_is_refused():
    with pytest.raises(BadValue, match="'pan' is named twice"):
        drawn(order=["pan", "pan"])


def test_the_legend_says_material_and_what_lies_under():
    entries = {entry.name: entry for entry in drawn("B", pan="rigid").legend}

    assert entries["pan"].material == "rigid pan"
    assert entries["pan"].lies_over == ("sill strip",)
    assert entries["wrb above"].lies_over == ("head strip", "wrb beside")
    assert entries["pan"].grade == "P"
    assert (entries["sill strip"].width, entries["pan"].width) == (inches(9), None)


def test_numbers_do_not_overlap_on_any_section():
    for code, chosen in EVERY:
        drawing = drawn(code, **chosen)
        spots = [(s.x, s.y) for s in drawing.shapes if isinstance(s, Circle) and s.radius > 5]
        close = [
            (one, other)
            for number, one in enumerate(spots)
            for other in spots[number + 1 :]
            if (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2 < 21**2
        ]
        assert close == [], (code, chosen)
        assert overlapping(drawing) == [], (code, chosen)


def test_hatches_of_cut_membranes_differ_from_their_neighbours():
    method = load_method("B1")
    hatches = {slab.piece.name: slab.piece.hatch for slab in slabs_by_face(method, method.choices())["sill"]}

    cut = [hatches[name] for name in ("wrb", "sill strip", "pan", "jamb strip")]
    assert len(set(cut)) == 4


def test_only_pens_with_a_class_and_paper_attributes_are_used():
    drawing = drawn(over_fin="membrane", corners="open", fin="folding", drip_cap=True)

    for shape in drawing.shapes:
        assert shape.pen.name
        assert shape.pen.fill
        assert isinstance(shape, Text | Path | Rect | Circle)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(EVERY),
    st.tuples(*[st.sampled_from(["4", "6", "9", "12"])] * 3),
    st.sampled_from(["3.5", "5.9375", "7.5", "12"]),
    st.integers(6, 240),
)
def test_everything_stays_inside_the_view_box(case, widths, wall, unit):
    code, chosen = case
    sill, jamb, head = map(inches, widths)
    sizes = replace(
        SIZES, sill_strip_width=sill, jamb_strip_width=jamb, head_strip_width=head, wall_depth=inches(wall),
        unit_width=inches(unit),
    )  # fmt: skip

    drawing = drawn(code, sizes=sizes, **chosen)

    assert outside(drawing) == []


@settings(deadline=None)
@given(st.sampled_from(EVERY), st.randoms(use_true_random=False))
def test_any_order_at_all_can_be_drawn(case, shuffler):
    code, chosen = case
    method = load_method(code)
    choices = method.choices(**chosen)
    order = [*order_of(method, choices), "sill cover"]
    shuffler.shuffle(order)

    drawing = draw_section(method, choices, sizes=SIZES, order=order)

    told = [note for note in drawing.notes if note.startswith("Reverse lap")]
    assert len(told) == len(check_order(method, choices, order).reverse_laps)
    assert outside(drawing) == []


def test_a_reverse_lap_beside_the_cuts_is_still_said():
    method = load_method("A")
    order = moved_before(order_of(method, method.choices()), "wrb beside", "wrb below")

    drawing = drawn("A", order=order)

    # WRB below and beside meet at the lower corners, which no cut goes through
    assert drawing.notes[0].startswith("Reverse lap, beside the cuts: wrb beside must lie over wrb below.")
