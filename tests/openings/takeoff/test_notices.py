"""What is said beside the numbers, and where: on one opening or once for the house."""

from __future__ import annotations

from openings.takeoff.compute import take_off_house
from projects.quantities.mass import Mass
from tests.openings.takeoff.cases import house_notices, inch, notices, opening, spec, taken

WEEP = "weep gaps: dab their heads"


def test_screws_at_the_weep_gaps_are_said_once_for_the_house() -> None:
    openings = [opening(mark="W1"), opening(mark="W2", width=48)]

    takeoff = take_off_house(openings, spec())

    assert [WEEP in text for text in takeoff.notices] == [True]
    assert all(not opening_takeoff.notices for opening_takeoff in takeoff.openings)


def test_screws_at_the_weep_gaps_stay_with_their_openings_where_others_differ() -> None:
    openings = [opening(mark="W1"), opening(mark="W2", fastener_corner=inch(4))]

    takeoff = take_off_house(openings, spec())

    assert not takeoff.notices
    assert [any(WEEP in text for text in notices(each)) for each in takeoff.openings] == [True, False]


def test_screws_clear_of_the_gaps_or_without_a_pan_are_not_mentioned() -> None:
    assert not any(WEEP in text for text in notices(taken(fastener_corner="3 1/16")))
    assert not any(WEEP in text for text in notices(taken(pan="none")))


def test_middle_screw_inside_a_gap_is_said() -> None:
    which = opening(width=7, fastener_corner=inch(4))  # one at 3 1/2, gaps of 3 and 4

    assert not any(WEEP in text for text in notices(taken(which)))
    assert any(WEEP in text for text in notices(taken(which, weep_gap="4")))


def test_bead_that_may_close_a_short_gap_is_said() -> None:
    # 1/2 bead: section 0.19635 / (2 x 1/16) = 1.571 in; 3 - 1.571 = 1.429, 2 1/2 - 1.571 = 0.929 < 1
    short = [text for text in notices(taken(weep_gap="2 1/2")) if "squeezed" in text]

    assert len(short) == 1
    assert not any("squeezed" in text for text in notices(taken()))
    assert not any("squeezed" in text for text in notices(taken(weep_gap="2", back_bead="3/8")))


def test_missing_head_strip_needs_a_name_behind_it() -> None:
    texts = house_notices([opening()], head_strip="no", over_fin="sealed")

    assert any("named person" in text and "sheet" in text for text in texts)
    assert not any("named person" in text for text in house_notices([opening()], over_fin="sealed"))


def test_width_that_is_no_stock_width_is_said_once() -> None:
    texts = house_notices([opening(mark="W1"), opening(mark="W2")], jamb_strip_width="7")

    assert [text for text in texts if "7" in text] == ["The jamb strip's width 7\" is not a stock width."]


def test_width_of_a_head_strip_that_is_left_out_is_no_matter() -> None:
    assert not any(
        "stock width" in text for text in house_notices([opening()], head_strip_width="7", head_strip="no")
    )


def test_screw_longer_than_any_in_stock_is_said_with_its_length() -> None:
    texts = house_notices([opening()], foam_thickness="1 1/4")

    assert any('3 1/8"' in text for text in texts)  # 1.875 + 1.25 = 3.125


def test_over_fin_setting_that_passes_a_method_by_is_said() -> None:
    openings = [opening(mark="W1", method="A"), opening(mark="W2")]

    takeoff = take_off_house(openings, spec(over_fin="sealed"))

    assert any("sealed" in text for text in notices(takeoff.openings[0]))
    assert not any("does not hold" in text for text in notices(takeoff.openings[1]))


def test_same_remark_on_every_opening_is_the_houses() -> None:
    openings = [opening(mark="W1", width=8), opening(mark="W2", width=8)]

    takeoff = take_off_house(openings, spec())

    assert any(text.startswith("sill: one fastener") for text in takeoff.notices)
    assert not any(notices(each) for each in takeoff.openings)


def test_remark_on_the_size_of_a_single_opening_stays_with_it() -> None:
    takeoff = take_off_house([opening(width=8)], spec())

    assert any(text.startswith("sill: one fastener") for text in notices(takeoff.openings[0]))


def test_heavy_unit_is_flagged_for_a_lift() -> None:
    assert any("lift" in text for text in notices(taken(opening(weight=Mass.pounds(151)))))
    assert not any("lift" in text for text in notices(taken(opening(weight=Mass.pounds(150)))))


def test_no_opening_no_notice() -> None:
    assert house_notices([], jamb_strip_width="7") == []
