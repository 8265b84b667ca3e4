"""How long the beads are and what they hold; unit 36 x 60 unless said otherwise."""

from __future__ import annotations

from fractions import Fraction
from math import pi

import pytest

from projects.quantities.volume import Volume
from tests.openings.takeoff.cases import SIDES, inch, inches, lines, opening, taken


def test_back_bead_leaves_two_weep_gaps_out_of_the_sill() -> None:
    assert inches("back bead") == {"head": 36, "left jamb": 60, "right jamb": 60, "sill": 30}
    assert inches("back bead", weep_gap="2")["sill"] == 32


def test_sill_bead_has_no_gaps_without_a_pan() -> None:
    assert inches("back bead", opening(pan="none"))["sill"] == 36
    assert inches("back bead", opening(pan="none"), bead_offset="1")["sill"] == 38


@pytest.mark.parametrize("pan", ["membrane", "stretch", "rigid"])
def test_every_pan_keeps_its_weep_gaps(pan: str) -> None:
    assert inches("back bead", opening(pan=pan))["sill"] == 30


def test_offset_lengthens_head_and_jambs_but_not_the_gapped_sill() -> None:
    # 36 + 2 x 1 1/8 = 38.25; 60 + 2.25 = 62.25; 36 - 6 = 30
    expected = {
        "head": Fraction("38.25"),
        "left jamb": Fraction("62.25"),
        "right jamb": Fraction("62.25"),
        "sill": Fraction(30),
    }

    assert inches("back bead", bead_offset="1 1/8") == expected
    face = inches("face bead", bead_offset="1 1/8", over_fin="sealed", head_strip="no")
    assert face == expected


def test_hinge_bead_runs_round_the_unit_without_offset_or_gaps() -> None:
    found = inches("hinge bead", opening(fin="folding"), bead_offset="1 1/8")

    assert found == {"head": 36, "left jamb": 60, "right jamb": 60, "sill": 36}


def test_sill_bead_is_never_shorter_than_nothing() -> None:
    narrow = opening(width=8)

    takeoff = taken(narrow, weep_gap="5", over_fin="sealed")

    sills = [line for line in takeoff.lines if line.kind == "bead" and line.zone == "sill"]
    assert [(line.part, line.length_nm, line.volume_pl) for line in sills] == [
        ("back bead", 0, 0),
        ("face bead", 0, 0),
    ]
    texts = [notice.text for notice in takeoff.notices]
    assert "sill: the two weep gaps leave no room for a back bead." in texts
    assert "sill: the two weep gaps leave no room for a face bead." in texts


@pytest.mark.parametrize(
    ("part", "setting", "diameter", "texts"),
    [
        ("hinge bead", "hinge_bead", "3/8", {"fin": "folding"}),
        ("back bead", "back_bead", "3/8", {}),
        ("back bead", "back_bead", "5/8", {}),
        ("face bead", "face_bead", "3/8", {"over_fin": "sealed"}),
    ],
)
def test_round_bead_holds_its_section_times_its_length(
    part: str, setting: str, diameter: str, texts: dict[str, str]
) -> None:
    jamb = lines(part, **texts, **{setting: diameter})["left jamb"]

    volume = pi / 4 * float(Fraction(diameter)) ** 2 * 60
    assert jamb.section.diameter_nm == inch(diameter).nm
    assert Volume(jamb.volume_pl).in_cubic_inches == pytest.approx(volume, abs=1e-6)


def test_beads_run_on_the_unit_whatever_the_rough_opening() -> None:
    which = opening(ro_width=inch(38), ro_height=inch(62))

    assert inches("back bead", which) == inches("back bead")


def test_beads_have_a_line_per_side() -> None:
    assert list(lines("back bead")) == list(SIDES)
