"""What each choice brings: the published table, row by row and method by method."""

from __future__ import annotations

import pytest

from projects.errors import BadValue
from tests.openings.takeoff.cases import JAMBS, SIDES, counts, lines, opening, spec, taken

OVER = ("A", "A1")
BEHIND = ("B", "B1")
ALL = (*OVER, *BEHIND)


@pytest.mark.parametrize("method", ALL)
def test_every_opening_has_its_sill_strip_beads_fasteners_and_inside_seal(method: str) -> None:
    assert set(lines("sill strip", method=method)) == {"sill"}
    assert set(lines("back bead", method=method)) == set(SIDES)
    assert set(lines("fasteners", method=method)) == set(SIDES)
    assert set(lines("foam", method=method)) == set(SIDES)


@pytest.mark.parametrize("method", ALL)
@pytest.mark.parametrize("over_fin", ["none", "membrane", "sealed"])
def test_jamb_strips_are_two_in_every_method(method: str, over_fin: str) -> None:
    found = lines("jamb strip", method=method, over_fin=over_fin)

    assert {zone: line.count for zone, line in found.items()} == dict.fromkeys(JAMBS, 1)


@pytest.mark.parametrize("method", OVER)
def test_own_strips_over_the_fins_need_no_second_pair(method: str) -> None:
    found = counts(taken(opening(method=method, over_fin="membrane")))

    assert "over-fin strip" not in found
    assert "face bead" not in found


@pytest.mark.parametrize("method", OVER)
@pytest.mark.parametrize("over_fin", ["none", "sealed"])
def test_row_that_leaves_the_methods_own_strips_out_is_refused(method: str, over_fin: str) -> None:
    with pytest.raises(BadValue) as refused:
        taken(opening(method=method, over_fin=over_fin))

    assert "own jamb strips" in refused.value.problem


@pytest.mark.parametrize("method", OVER)
def test_setting_of_the_over_fin_detail_passes_by_methods_that_cannot_have_it(method: str) -> None:
    found = counts(taken(opening(method=method), over_fin="sealed"))

    assert "face bead" not in found
    assert "over-fin strip" not in found


@pytest.mark.parametrize("method", BEHIND)
def test_side_fins_are_bare_where_nothing_else_was_chosen(method: str) -> None:
    found = counts(taken(method=method))

    assert "over-fin strip" not in found
    assert "face bead" not in found


@pytest.mark.parametrize("method", BEHIND)
def test_over_fin_membrane_brings_two_strips_like_the_jamb_strips(method: str) -> None:
    which = opening(method=method, over_fin="membrane")

    over, behind = lines("over-fin strip", which), lines("jamb strip", which)

    assert set(over) == set(JAMBS)
    for zone in JAMBS:
        assert over[zone].length_nm == behind[zone].length_nm
        assert over[zone].width_nm == behind[zone].width_nm == 9 * 25_400_000
        assert over[zone].count == 1


@pytest.mark.parametrize("method", BEHIND)
def test_sealed_fins_have_no_face_bead_under_a_head_strip(method: str) -> None:
    with_strip = lines("face bead", method=method, over_fin="sealed")
    without = lines("face bead", method=method, over_fin="sealed", head_strip="no")

    assert set(with_strip) == {*JAMBS, "sill"}
    assert set(without) == set(SIDES)


@pytest.mark.parametrize("method", ALL)
def test_head_strip_is_one_unless_left_out(method: str) -> None:
    assert set(lines("head strip", method=method)) == {"head"}
    assert lines("head strip", method=method, head_strip="no") == {}


@pytest.mark.parametrize(("method", "tapes"), [("A", None), ("B", None), ("A1", 2), ("B1", 2)])
def test_flap_tapes_are_two_where_the_wrb_is_on_first(method: str, tapes: int | None) -> None:
    assert counts(taken(method=method)).get("flap tape") == tapes


@pytest.mark.parametrize(
    ("pan", "kind", "corners"),
    [("membrane", "strip", 2), ("stretch", "strip", None), ("rigid", "piece", None), ("none", None, None)],
)
def test_each_pan_brings_its_own_pieces(pan: str, kind: str | None, corners: int | None) -> None:
    takeoff = taken(opening(pan=pan))

    kinds = [line.kind for line in takeoff.lines if line.part == "pan"]
    assert kinds == ([kind] if kind else [])
    assert counts(takeoff).get("pan corner") == corners


@pytest.mark.parametrize(("fin", "sides"), [("fixed", set()), ("folding", set(SIDES))])
def test_hinge_bead_is_for_folding_fins_only(fin: str, sides: set[str]) -> None:
    assert set(lines("hinge bead", opening(fin=fin))) == sides


@pytest.mark.parametrize(
    ("corners", "mulls", "patches"),
    [("welded", 0, None), ("open", 0, 4), ("welded", 2, 4), ("open", 2, 8)],  # 4 for open + 2 a mull
)
def test_corner_patches_count_open_corners_and_mulls(corners: str, mulls: int, patches: int | None) -> None:
    takeoff = taken(opening(corners=corners, mulls=mulls))

    assert counts(takeoff).get("corner patch") == patches


def test_row_overrules_the_specification() -> None:
    which = opening(method="B", over_fin="none", pan="none", fin="fixed", corners="welded")

    found = counts(
        taken(which, method="A1", over_fin="sealed", pan="membrane", fin="folding", corners="open")
    )

    absent = {"flap tape", "face bead", "pan", "pan corner", "hinge bead", "corner patch"}
    assert absent.isdisjoint(found)


def test_specification_holds_where_the_row_is_silent() -> None:
    found = counts(taken(method="A1", pan="stretch", fin="folding", corners="open"))

    assert {"flap tape", "pan", "hinge bead", "corner patch"} <= set(found)
    assert "pan corner" not in found


def test_nothing_is_added_for_a_drip_cap_that_nobody_drew() -> None:
    assert lines("drip cap") == {}
    assert lines("shims", shims="no") == {}
    assert lines("foam", air_seal="none") == {}
    assert spec().drip_cap is False
