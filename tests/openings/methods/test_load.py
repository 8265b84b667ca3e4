from __future__ import annotations

import shutil

import pytest

from openings.methods.load import FOLDER, known_items, load_method, load_methods
from projects.errors import BadValue
from tests.openings.methods.cases import ITEMS

NEW_METHOD = """
code = "C1"
label = "Jamb strips behind, no head strip of its own, a rain screen batten after"
jamb_strips = "behind fins"
wrb_before = true
over_fin_default = "none"
over_fin_allowed = ["none"]
over_fin_reason = "its batten stands on the side fins"
grade = "C"
source = "a company's own"
layers = ["wrb", "sill strip", "jamb strip", "unit", "fasteners", "batten"]
steps = ["check", "cut-wrb", "sill-strip", "jamb-strips", "unpack", "set", "fasten", "look", "battens"]

[[layer]]
name = "batten"
zone = "jamb"
kind = "cap"
material = "screws"
step = "battens"
hatch = "bare"
grade = "C"
source = "a company's own"

[[step]]
code = "battens"
label = "Battens"
layers = ["batten"]
after = ["look"]
minutes = 2
people = 1
scaling = "size"
grade = "E"
source = "a company's own"

[[lap]]
over = "batten"
under = "unit"
why = "The batten stands on the side fin."
grade = "C"
source = "a company's own"
"""


@pytest.fixture
def folder(tmp_path):
    """Return a folder with a copy of the method files, for a test to spoil."""
    copy = tmp_path / "methods"
    shutil.copytree(FOLDER, copy)
    return copy


def spoil(folder, name, old, new):
    """Replace `old` in one file, once."""
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def refusal(folder):
    """Return the refusal's text."""
    with pytest.raises(BadValue) as refused:
        load_methods(folder)
    return str(refused.value)


def test_there_are_four_methods_by_code():
    assert list(load_methods()) == ["A", "A1", "B", "B1"]


def test_jamb_strips_and_wrb_follow_the_guides_grid():
    # field guide section 3: A over the fins, WRB after; A1 over, before; B behind, after; B1 behind, before
    facts = {code: (m.jamb_strips, m.wrb_before, m.over_fin_default) for code, m in load_methods().items()}

    assert facts == {
        "A": ("over fins", False, "membrane"),
        "A1": ("over fins", True, "membrane"),
        "B": ("behind fins", False, "none"),
        "B1": ("behind fins", True, "none"),
    }


def test_the_grid_agrees_with_each_methods_own_laps():
    for method in load_methods().values():
        laps = {(lap.over, lap.under) for lap in method.laps}
        assert (("jamb strip", "unit") in laps) == (method.jamb_strips == "over fins")
        assert (("unit", "jamb strip") in laps) == (method.jamb_strips == "behind fins")
        assert ("wrb" in {layer.name for layer in method.layers}) == method.wrb_before


def test_the_items_of_an_order_are_the_published_ones():
    assert set(known_items()) == set(ITEMS)
    assert len(known_items()) == 21


def test_a_code_is_found_in_either_case():
    assert load_method(" b1 ") is load_methods()["B1"]


def test_an_unknown_code_is_refused_with_the_known_ones():
    with pytest.raises(BadValue, match=r"'Z9' is no method we know. Use one of: A, A1, B, B1."):
        load_method("Z9")


def test_a_rigid_or_stretch_pan_is_another_material():
    method = load_method("B1")
    pan = method.layer("pan")

    assert [pan.material_for(method.choices(pan=kind)) for kind in ("membrane", "stretch", "rigid")] == [
        "membrane", "stretch membrane", "rigid pan",
    ]  # fmt: skip


def test_a_layer_that_the_method_lacks_is_refused():
    with pytest.raises(BadValue, match="Method A has no layer 'head flap'"):
        load_method("A").layer("head flap")


def test_adding_a_method_is_one_file(folder):
    (folder / "C1.toml").write_text(NEW_METHOD, encoding="utf-8")

    methods = load_methods(folder)

    assert list(methods) == ["A", "A1", "B", "B1", "C1"]
    assert ("batten", "unit") in {(lap.over, lap.under) for lap in methods["C1"].laps}


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        ("B1.toml", '"sill strip", "pan"', '"sill strip", "tray"', ("B1.toml", "layers", "'tray'")),
        ("B1.toml", '"check", "cut-wrb"', '"check", "saw"', ("B1.toml", "steps", "'saw'")),
        ("B1.toml", 'under = "pan corner"', 'under = "wrb below"', ("B1.toml", "under", "'wrb below'")),
        ("B1.toml", 'to = "jamb-strips"', 'to = "wrb-after"', ("B1.toml", "to", "'wrb-after'")),
        ("B1.toml", '"head-strip", "flap", ', '"head-strip", ', ("B1.toml", "head flap", "'flap'")),
        ("B1.toml", 'grade = "P"\n', "", ("B1.toml", "grade")),
        ("B1.toml", 'grade = "P"\n', 'grade = "X"\n', ("B1.toml", "grade", "'X'")),
        ("B1.toml", "wrb_before = true", 'wrb_before = "yes"', ("B1.toml", "wrb_before")),
        ("B1.toml", '"behind fins"', '"off"', ("B1.toml", "jamb_strips", "'off'")),
        ("B1.toml", "wrb_before = true", "wrb_before = true\nspare = 1", ("B1.toml", "'spare'")),
        ("B1.toml", 'code = "B1"', 'code = "B"', ("B1.toml", "'B'")),
        ("B1.toml", 'code = "B1"', "code = ", ("B1.toml", "can't be read")),
        ("B1.toml", 'over_fin_default = "none"', 'over_fin_default = "tape"', ("over_fin_default", "'tape'")),
        ("common.toml", 'material = "sealant"', 'material = "glue"', ("common.toml", "material", "'glue'")),
        ("common.toml", 'step = "sill-strip"', 'step = "sills"', ("common.toml", "step", "'sills'")),
        ("common.toml", 'zone = "sill"', 'zone = "cellar"', ("common.toml", "zone", "'cellar'")),
        ("common.toml", 'sheet = "skin_over"', 'sheet = "skin"', ("common.toml, lag 1, max", "'skin'")),
        ("common.toml", "minutes = 16", 'minutes = "long"', ("common.toml, step", "minutes")),
        ("common.toml", "minutes = 16", "minutes = -1", ("common.toml, step", "minutes", "below zero")),
        ("common.toml", "people = 2", "people = 0", ("common.toml, step", "people is 0")),
        ("common.toml", "people = 2", "people = 1.5", ("common.toml, step", "whole number")),
        ("common.toml", 'pan = ["membrane", "stretch"', 'pan = ["paper"', ("when", "'paper'")),
        ("common.toml", "when = { pan", "when = { plan", ("when", "'plan'")),
        ("common.toml", 'code = "set"', 'code = "fasten"', ("common.toml, step", "'fasten' stands twice")),
        ("common.toml", "end_in = -1.2", "end_in = -2", ("run 1", "end_in is not beyond")),
        ("common.toml", 'end_of = "sill', 'end_of = "cellar', ("layer 1, run 1", "end_of")),
        ("common.toml", 'looks = [\n', 'looks = [\n"a", "a",\n', ("hold_point 1", "twice")),
        ("common.toml", "[[blocker]]", "[blocker]", ("blocker", "list of tables")),
    ],
)  # fmt: skip
def test_a_spoiled_file_is_refused_by_file_and_key(folder, name, old, new, told):
    spoil(folder, name, old, new)

    text = refusal(folder)

    for part in told:
        assert part in text


def test_every_table_without_its_source_is_refused(folder):
    whole = (folder / "common.toml").read_text(encoding="utf-8")
    sources = [place for place in range(len(whole)) if whole.startswith("\nsource =", place)]

    for place in sources:
        line_end = whole.index("\n", place + 1)
        (folder / "common.toml").write_text(whole[:place] + whole[line_end:], encoding="utf-8")
        load_methods.cache_clear()
        text = refusal(folder)
        assert "common.toml" in text
        assert "'source'" in text

    # layers 20, blocker, caution, laps 28, orders 11, steps 22, waits 7, holds 3, nights 2, pace
    assert len(sources) == 96


def test_an_order_in_the_file_that_breaks_its_own_laps_is_refused(folder):
    spoil(folder, "B1.toml", '"sill strip", "pan",', '"pan", "sill strip",')

    assert "B1.toml: layers has 'pan' before 'sill strip'" in refusal(folder)


def test_steps_that_break_the_laps_are_refused(folder):
    spoil(folder, "B1.toml", '"pan", "jamb-strips"', '"jamb-strips", "pan"')

    assert "B1.toml: steps has 'jamb-strips' before 'pan'" in refusal(folder)


def test_a_missing_common_file_is_refused_by_name(folder):
    (folder / "common.toml").unlink()

    assert "common.toml can't be read" in refusal(folder)
