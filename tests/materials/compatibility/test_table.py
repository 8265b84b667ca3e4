"""What fits what: the table as it stands, what is said of what is used, and files that are refused."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from config.checks import pairs_can_be_judged
from materials.compatibility.check import pair_problems
from materials.compatibility.load import FILE, load_pairs
from materials.compatibility.table import Part, judge, unnamed_parts
from projects.errors import BadValue
from tests.materials.compatibility.building import FITTING

TABLE = load_pairs()


def said(*keys):
    """Return each pair's keys with its answer."""
    return [(*each.keys, str(each.answer)) for each in judge(keys, TABLE)]


def test_every_two_parts_that_touch_are_judged_in_the_files_order():
    # sealant-membrane, sealant-fin, sealant-WRB, membrane-fin, membrane-WRB; fin and WRB are not asked of
    assert said("spun-bonded", "vinyl-fin", "butyl-membrane", "stp-hybrid") == [
        ("stp-hybrid", "butyl-membrane", "yes"),
        ("stp-hybrid", "vinyl-fin", "yes"),
        ("stp-hybrid", "spun-bonded", "yes"),
        ("butyl-membrane", "vinyl-fin", "yes"),
        ("butyl-membrane", "spun-bonded", "yes"),
    ]


def test_two_kinds_of_a_part_are_judged_each():
    # both membranes with the sealant, and both with the fin; the membranes not with each other
    assert said("silicone", "butyl-membrane", "rubberised-asphalt", "vinyl-fin") == [
        ("silicone", "butyl-membrane", "no"),
        ("silicone", "rubberised-asphalt", "no"),
        ("silicone", "vinyl-fin", "yes"),
        ("butyl-membrane", "vinyl-fin", "yes"),
        ("rubberised-asphalt", "vinyl-fin", "ask the maker"),
    ]


def test_a_pair_that_does_not_stand_in_the_table_is_no_entry():
    (pair,) = judge(["rubberised-asphalt", "fibreglass-fin"], TABLE)

    assert (pair.entry, pair.answer, pair.fits, pair.is_refused) == (None, "no entry", False, False)


def test_the_order_in_which_kinds_are_named_changes_nothing():
    assert judge(FITTING, TABLE) == judge(reversed(FITTING), TABLE)
    assert judge((*FITTING, *FITTING), TABLE) == judge(FITTING, TABLE)


def test_as_many_pairs_come_out_as_there_are_of_touching_parts():
    # 5 sealants, 3 membranes, 4 fins, 4 WRBs: 5 x 3 + 5 x 4 + 5 x 4 + 3 x 4 + 3 x 4 = 79
    assert len(judge(TABLE.kinds, TABLE)) == 79
    assert judge([], TABLE) == ()


def test_parts_that_nobody_has_named_are_said():
    assert unnamed_parts([], TABLE) == (Part.SEALANT, Part.MEMBRANE, Part.FIN, Part.WRB)
    assert unnamed_parts(["silicone", "vinyl-fin"], TABLE) == (Part.MEMBRANE, Part.WRB)


def test_an_unknown_kind_is_refused():
    with pytest.raises(BadValue, match="'tar' is no kind"):
        judge(["tar"], TABLE)


def test_no_membrane_goes_on_silicone():
    # field guide 2: "never on silicone" (common practice, no source)
    for membrane in TABLE.of(Part.MEMBRANE):
        entry = TABLE.entries["silicone", membrane.key]
        assert (entry.answer, entry.grade) == ("no", "C")


def test_solvent_sealant_is_kept_away_from_every_membrane():
    # facts 7: "Solvent sealant: keep away from self-adhered flashing", P, ASTM task draft
    for membrane in TABLE.of(Part.MEMBRANE):
        entry = TABLE.entries["solvent-butyl", membrane.key]
        assert (entry.answer, entry.grade) == ("no", "P")
        assert "ASTM task-group draft" in entry.source


def test_only_what_a_document_says_is_graded_published():
    published = {keys for keys, entry in TABLE.entries.items() if entry.grade == "P"}

    assert published == {("solvent-butyl", membrane.key) for membrane in TABLE.of(Part.MEMBRANE)}
    assert {entry.grade for entry in TABLE.entries.values()} <= {"P", "M", "C"}


def test_asphalt_is_never_simply_called_fitting_beside_what_may_soften_it():
    # field guide 5: plasticisers and solvents; common practice, no source
    for sealant, membrane in product(TABLE.of(Part.SEALANT), ["rubberised-asphalt"]):
        entry = TABLE.entries.get((sealant.key, membrane))
        assert entry is None or entry.answer != "yes"


def test_our_own_file_can_be_judged():
    assert pair_problems() == []


def changed(tmp_path: Path, old: str, new: str) -> Path:
    text = FILE.read_text(encoding="utf-8")
    assert old in text
    (tmp_path / "pairs.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
    return tmp_path / "pairs.toml"


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('grade = "C"', 'grade = "A"', "'A' is not known"),
        ('grade = "C"\n', "", "pair 1: key 'grade'"),
        ('source = "common practice, no source"\n', "", "pair 1: key 'source'"),
        ('reason = "Membrane does not', 'why = "Membrane does not', "key 'why' is not known"),
        ('answer = "no"', 'answer = "perhaps"', "'perhaps' is not known"),
        ('one = "silicone"', 'one = "tar"', "'tar' is not known"),
        ('other = "butyl-membrane"', 'other = "polyurethane"', "sealant and sealant are no pair"),
        ('other = "rubberised-asphalt"', 'other = "butyl-membrane"', "are there twice"),
        ('key = "polyurethane"', 'key = "silicone"', "'silicone' is there twice"),
        ('key = "silicone"', 'key = "sili cone"', "does not fit into an address"),
        ('part = "sealant"', 'part = "paint"', "'paint' is not known"),
        ("[[kind]]", "[[kind]", "can't be read"),
    ],
)
def test_a_file_that_cannot_be_used_stops_the_start_and_says_where(tmp_path, old, new, says):
    (error,) = pairs_can_be_judged(None, pairs=changed(tmp_path, old, new))

    assert error.is_serious()
    assert says in error.msg
    assert error.hint


def test_a_file_without_a_part_stops_the_start(tmp_path):
    file = tmp_path / "pairs.toml"
    file.write_text('[[kind]]\npart = "sealant"\nkey = "silicone"\nname = "silicone"\n', encoding="utf-8")

    told = [error.msg for error in pairs_can_be_judged(None, pairs=file)]

    assert told == [f"pairs.toml has no kind of {part}." for part in ("membrane", "fin", "WRB")]
