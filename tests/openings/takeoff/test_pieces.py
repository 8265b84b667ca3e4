"""Patches, shims, drip caps and what closes the gap from inside; unit 36 x 60 unless said otherwise."""

from __future__ import annotations

from fractions import Fraction

import pytest

from projects.quantities.length import Length
from projects.quantities.volume import Volume
from tests.openings.takeoff.cases import SIDES, inch, inches, lines, notices, opening, taken


@pytest.mark.parametrize(
    ("width", "points"),
    [
        ("8", 2),  # ceil(0 / 15) + 1 = 1, at least 2
        ("23", 2),  # ceil(15 / 15) + 1
        ("23.0625", 3),
        ("38", 3),  # ceil(30 / 15) + 1
        ("72", 6),  # ceil(64 / 15) + 1 = 5 + 1
    ],
)
def test_sill_shims_follow_the_units_width(width: str, points: int) -> None:
    shims = lines("shims", opening(width=width))["sill"]

    assert (shims.points, shims.count) == (points, 2 * points)


@pytest.mark.parametrize(("height", "points"), [("48", 2), ("48.0625", 3)])
def test_tall_jambs_have_a_third_pair_of_shims(height: str, points: int) -> None:
    found = lines("shims", opening(height=height))

    assert (found["left jamb"].points, found["left jamb"].count) == (points, 2 * points)
    assert (found["right jamb"].points, found["right jamb"].count) == (points, 2 * points)


def test_drip_cap_is_half_an_inch_longer_than_the_frame() -> None:
    assert inches("drip cap", drip_cap="yes") == {"head": Fraction("36.5")}


def volumes(part: str, which: object = None, **texts: str) -> dict[str, float]:
    """Return the volumes of a part by zone in cubic inches."""
    found = lines(part, which, **texts)  # type: ignore[arg-type]
    return {zone: Volume(line.volume_pl).in_cubic_inches for zone, line in found.items()}


def test_foam_fills_half_the_difference_on_each_axis() -> None:
    which = opening(ro_width=inch("36.75"), ro_height=inch(61))

    # gaps 3/8 beside and 1/2 above and below: head 36 x 1/2 x 1 1/2 = 27, jambs 60 x 3/8 x 1 1/2 = 33.75,
    # sill 36 x 1/2 x 3/4 = 13.5
    expected = {"head": 27, "left jamb": 33.75, "right jamb": 33.75, "sill": 13.5}
    assert volumes("foam", which) == pytest.approx(expected, abs=1e-6)


def test_foam_depths_are_settings_of_their_own() -> None:
    found = volumes("foam", air_seal_depth="1", air_seal_sill_depth="1/2")

    # gap 1/4: 36 x 1/4 x 1 = 9; 60 x 1/4 = 15; 36 x 1/4 x 1/2 = 4.5
    assert found == pytest.approx({"head": 9, "left jamb": 15, "right jamb": 15, "sill": 4.5}, abs=1e-6)


@pytest.mark.parametrize(
    ("both_gaps", "rod", "depth"),
    [
        ("0.25", "0.25", "0.25"),  # gap 1/8 x 1.25 = 0.156; half 1/16, at least 1/4
        ("0.4", "0.25", "0.25"),  # 0.2 x 1.25 = 0.25 exactly
        ("0.5", "0.375", "0.25"),  # 0.3125; 1/8
        ("0.75", "0.5", "0.25"),  # 0.46875; 3/16
        ("1", "0.625", "0.25"),  # 0.625 exactly; 1/4
        ("1.2", "0.75", "0.3"),  # 0.75 exactly; 0.3
        ("1.5", "1", "0.375"),  # 0.9375; 3/8
        ("1.6", "1", "0.4"),  # 1 exactly; 0.4
    ],
)
def test_rod_and_bead_follow_the_gap(both_gaps: str, rod: str, depth: str) -> None:
    which = opening(ro_width=inch(36) + inch(both_gaps))

    rods = lines("backer rod", which, air_seal="rod and bead")
    beads = lines("inside bead", which, air_seal="rod and bead")

    section = Fraction(both_gaps) / 2 * Fraction(depth)
    assert rods["left jamb"].diameter_nm == inch(rod).nm
    assert Length(rods["left jamb"].length_nm) == inch(60)
    assert beads["left jamb"].section.nm2 == section * 25_400_000**2
    assert beads["left jamb"].section.diameter_nm is None
    assert set(rods) == set(beads) == set(SIDES)


def test_joint_is_never_deeper_than_half_an_inch() -> None:
    which = opening(ro_width=inch("38.5"))  # gap 1 1/4, half 5/8

    bead = lines("inside bead", which, air_seal="rod and bead")["left jamb"]

    assert bead.section.nm2 == Fraction(5, 4) * Fraction(1, 2) * 25_400_000**2


def test_gap_too_wide_for_any_rod_is_said() -> None:
    which = opening(ro_width=inch("37.75"))  # 7/8 x 1.25 = 1.09

    takeoff = taken(which, air_seal="rod and bead")

    rods = {line.zone: line for line in takeoff.lines if line.part == "backer rod"}
    assert rods["left jamb"].diameter_nm is None
    assert "left jamb: the gap is too wide for any stock backer rod." in notices(takeoff)


def test_opening_without_any_gap_is_said() -> None:
    which = opening(ro_width=inch(36), ro_height=inch(60))

    assert volumes("foam", which) == {"head": 0, "left jamb": 0, "right jamb": 0, "sill": 0}
    texts = notices(taken(which))
    assert any("equally high" in text for text in texts)
    assert any("equally wide" in text for text in texts)


def test_inside_seal_is_foam_or_rod_and_bead_or_nothing() -> None:
    assert lines("backer rod") == lines("inside bead") == {}
    assert lines("foam", air_seal="rod and bead") == {}
    assert lines("foam", air_seal="none") == lines("backer rod", air_seal="none") == {}
