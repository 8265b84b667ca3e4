"""What a unit weighs and how many people set it."""

from __future__ import annotations

import pytest

from openings.takeoff.opening import GlassPanes
from projects.quantities.length import Length
from projects.quantities.mass import Mass
from tests.openings.takeoff.cases import opening, taken

TWO_PANES = GlassPanes(2, Length.mm(3))


def test_glass_and_frame_share_make_the_weight() -> None:
    # 36 x 48 in, 6 mm of glass: 16.722547 kg; x 1.30 = 21.739311 kg; / 0.45359237 = 47.927 lb
    weight = taken(opening(width=36, height=48, glass=TWO_PANES)).weight

    assert weight is not None
    assert weight.in_kg == pytest.approx(16.7225472 * 1.3, abs=1e-6)
    assert weight.in_pounds == pytest.approx(47.927, abs=1e-3)


def test_frame_share_is_a_setting() -> None:
    weight = taken(opening(width=36, height=48, glass=TWO_PANES), frame_share="0").weight

    assert weight is not None
    assert weight.in_kg == pytest.approx(16.7225472, abs=1e-6)


def test_stated_weight_wins_over_the_glass() -> None:
    assert taken(opening(glass=TWO_PANES, weight=Mass.pounds(80))).weight == Mass.pounds(80)


def test_unknown_weight_stays_unknown() -> None:
    takeoff = taken()

    assert takeoff.weight is None
    assert takeoff.people == 2
    assert not takeoff.needs_lift


@pytest.mark.parametrize(
    ("pounds", "people", "lift"),
    [(100, 2, False), (101, 3, False), (150, 3, False), (151, 3, True)],
)
def test_two_people_set_a_unit_and_three_a_heavy_one(pounds: int, people: int, lift: bool) -> None:
    takeoff = taken(opening(weight=Mass.pounds(pounds)))

    assert (takeoff.people, takeoff.needs_lift) == (people, lift)
