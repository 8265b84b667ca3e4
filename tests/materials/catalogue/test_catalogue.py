"""The catalogue's files: each material with packs, grades and sources, and refusals by file and key."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from materials.catalogue.check import catalogue_problems, unknown_materials, unmet_parts
from materials.catalogue.load import FOLDER, load_catalogue
from materials.catalogue.material import Catalogue
from openings.methods.load import load_methods
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.quantities.volume import Area, Volume

TAPE = """
key = "tape"
name = "Tape"
meets = "wrb tape"
unit = "length"
size_in = 3
grade = "C"
source = "common practice, no source"

[[pack]]
key = "roll"
kind = "roll"
name = "roll of 165 ft"
length_ft = 165
price = "16.00"
grade = "E"
source = "estimate for the demo"
"""


def folder_with(folder: Path, text: str, *, name: str = "tape.toml") -> Path:
    """Return a catalogue folder with one material."""
    (folder / name).write_text(text, encoding="utf-8")
    (folder / "words.toml").write_text('by_others = ["window"]\n[together]\n', encoding="utf-8")
    return folder


def test_methods_takeoff_and_catalogue_fit_together() -> None:
    assert catalogue_problems() == []


def test_every_material_and_price_has_grade_and_source() -> None:
    for material in load_catalogue().materials.values():
        assert material.grade in ("P", "M", "C", "D", "E")
        assert material.source
        for packaging in material.packs:
            price = packaging.label.price
            assert price is not None
            assert price.grade == "E"  # demo prices are estimates
            assert price.source


@pytest.mark.parametrize(
    ("key", "pack", "price"),
    [  # field guide, section 11 (E)
        ("membrane-4in", "roll-75ft", "19.00"),
        ("membrane-6in", "roll-75ft", "28.00"),
        ("membrane-9in", "roll-75ft", "42.00"),
        ("membrane-12in", "roll-75ft", "58.00"),
        ("sealant", "cartridge-10.1oz", "9.00"),
        ("sealant", "case-12", "102.00"),
        ("screw-2in", "box-500", "42.00"),
        ("corner-patch", "box-100", "65.00"),
        ("pan-corner", "piece", "1.60"),
        ("foam", "can", "13.00"),
        ("wrb-tape-3in", "roll-165ft", "16.00"),
    ],
)
def test_demo_prices_are_those_of_the_field_guide(key: str, pack: str, price: str) -> None:
    label = load_catalogue().material(key).pack(pack).label

    assert label.price is not None
    assert label.price.amount == Money.of(Decimal(price))


@pytest.mark.parametrize(
    ("key", "pack", "contains"),
    [
        ("membrane-9in", "roll-75ft", Length.inches(900).nm),
        ("membrane-12in", "roll-100ft", Length.inches(1200).nm),
        ("wrb-tape-3in", "roll-165ft", Length.inches(1980).nm),
        ("drip-cap", "stick-10ft", Length.inches(120).nm),
        ("sealant", "sausage-20oz", Volume.fluid_ounces(20).pl),
        ("screw-3in", "box-500", 500),
    ],
)
def test_packs_hold_what_their_names_say(key: str, pack: str, contains: int) -> None:
    assert load_catalogue().material(key).pack(pack).contains == contains


def test_case_holds_twelve_cartridges() -> None:
    sealant = load_catalogue().material("sealant")

    assert sealant.pack("case-12").contains == 12 * sealant.pack("cartridge-10.1oz").contains


def test_can_of_foam_yields_half_of_what_it_says() -> None:
    can = load_catalogue().material("foam").pack("can")

    # 1 cubic foot = 1728 in3, half of it
    assert Volume(can.contains).in_cubic_inches == pytest.approx(864, abs=1e-6)


def test_primer_covers_its_area() -> None:
    primer = load_catalogue().material("primer")

    # 6.4 mil on 36,000 in2 (250 square feet) = 230.4 in3
    volume = primer.volume_on(Area.of(Length.inches(360), Length.inches(100)))
    assert volume.in_cubic_inches == pytest.approx(230.4, abs=1e-6)


def test_material_that_is_not_spread_covers_nothing() -> None:
    with pytest.raises(BadValue):
        load_catalogue().material("sealant").volume_on(Area(1))


def test_unknown_material_or_pack_names_those_there_are() -> None:
    catalogue = load_catalogue()

    with pytest.raises(BadValue, match="membrane-9in"):
        catalogue.material("membrane-8in")
    with pytest.raises(BadValue, match="case-12"):
        catalogue.material("sealant").pack("pail")


def test_material_file_is_read(tmp_path: Path) -> None:
    tape = load_catalogue(folder_with(tmp_path, TAPE)).material("tape")

    assert (tape.meets, tape.size, tape.unit) == ("wrb tape", Length.inches(3), "length")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (('grade = "C"\n', ""), "grade"),
        (('source = "common practice, no source"\n', ""), "source"),
        (('grade = "E"\n', ""), "grade"),
        (('source = "estimate for the demo"\n', ""), "source"),
        (('grade = "C"', 'grade = "X"'), "grade"),
        (("length_ft = 165", "length_ft = 0"), "holds nothing"),
        (("length_ft = 165", "length_in = 165"), "length_in"),
        (('kind = "roll"', 'kind = "box"\npieces = 3'), "length_ft"),
        (('unit = "length"', 'unit = "pieces"'), "counts length"),
        (('price = "16.00"', 'price = "16.001"'), "cents"),
        (('price = "16.00"', 'price = "free"'), "price"),
        (('key = "tape"', 'key = "ribbon"'), "ribbon"),
        (("size_in = 3", "size_in = 3\ncolour = 1"), "colour"),
        (("[[pack]]", "[[pack"), "can't be read"),
    ],
)
def test_faulty_material_file_is_refused_by_file_and_key(
    tmp_path: Path, change: tuple[str, str], says: str
) -> None:
    assert change[0] in TAPE
    folder = folder_with(tmp_path, TAPE.replace(*change, 1))

    with pytest.raises(BadValue) as refused:
        load_catalogue(folder)

    assert "tape.toml" in refused.value.problem
    assert says in str(refused.value)
    assert [problem.problem for problem in catalogue_problems(folder)] == [refused.value.problem]


def test_material_without_a_pack_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadValue, match="no pack"):
        load_catalogue(folder_with(tmp_path, TAPE.split("[[pack]]", maxsplit=1)[0]))


def test_same_pack_twice_is_refused(tmp_path: Path) -> None:
    pack = "[[pack]]" + TAPE.split("[[pack]]")[1]

    with pytest.raises(BadValue, match="twice"):
        load_catalogue(folder_with(tmp_path, TAPE + pack))


def test_method_that_names_an_unknown_material_is_found() -> None:
    whole = load_catalogue()
    without = {key: material for key, material in whole.materials.items() if key != "sealant"}
    catalogue = Catalogue(without, whole.by_others, whole.together)

    problems = list(unknown_materials(load_methods(), catalogue))

    assert {problem.value for problem in problems} == {"sealant", "backer rod and sealant"}
    assert len(problems) == 2 * len(load_methods())
    assert any("bead" in str(problem.value) for problem in unmet_parts(catalogue))


def test_one_file_is_one_material() -> None:
    files = {path.stem for path in FOLDER.glob("*.toml")} - {"words"}

    assert files == set(load_catalogue().materials)
