"""Two windows worked by hand, from strips to packs and dollars.

W1 is 36 x 60, W2 24 x 36; each RO is 1/2 in larger. Method B1, all defaults.
"""

from __future__ import annotations

import pytest

from materials.models import Coverage
from projects.quantities.length import Length
from projects.quantities.volume import Volume
from tests.materials.orders.building import bought

pytestmark = pytest.mark.django_db


def test_two_windows_come_to_these_packs_and_dollars(site):
    order = site.draft()

    assert bought(order) == {
        # W1: sill and head 36.5 + 2 x 9 = 54.5 each, jambs 60.5 + 8.5 + 8.5 = 77.5 each: 264
        # W2: sill and head 24.5 + 18 = 42.5 each, jambs 36.5 + 17 = 53.5 each: 192
        # 456 in fit a roll of 50 ft, 600 in, at 29.00; 75 ft would be 42.00
        "membrane-9in": (1, "roll-50ft", "29.00"),
        # pans 36.5 + 12 = 48.5 and 24.5 + 12 = 36.5: 85 in
        "membrane-12in": (1, "roll-50ft", "40.00"),
        # flap tapes, two a window: 4 x (sqrt(2) x 9 + 6) = 74.9 in
        "wrb-tape-3in": (1, "roll-165ft", "16.00"),
        # W1 13.5 + 2 x 22.5 + 6.75 = 65.25; W2 9 + 2 x 13.5 + 4.5 = 40.5: 105.75 in3 of 1728 / 2 = 864
        "foam": (1, "can", "13.00"),
        # two a pan; a box of 50 would be 76.00
        "pan-corner": (4, "piece", "6.40"),
        # W1 4 + 4 + 6 + 6 = 20; W2 span 18: 3 + 3, span 30: 4 + 4 = 14: 34 of 500
        "screw-2in": (1, "box-500", "42.00"),
        # back beads 36 + 60 + 60 + 30 = 186 and 24 + 36 + 36 + 18 = 114: 300 in x pi / 16 x 1.15 = 67.74 in3;
        # a cartridge holds 10.1 x 231 / 128 = 18.227 in3: 3.72
        "sealant": (4, "cartridge-10.1oz", "36.00"),
        # W1 sill ceil(28 / 15) + 1 = 3 points, jambs 3 each: 18; W2 sill 3 points, jambs 2 each: 14
        "shims": (1, "bundle-50", "7.50"),
    }
    # 29 + 40 + 16 + 13 + 6.40 + 42 + 36 + 7.50
    assert order.total_cents == 189_90
    assert sum(line.total_cents for line in order.lines.all()) == 189_90


def test_what_each_window_needs_is_covered_by_the_order(site):
    order = site.draft()

    covers = {
        (cover.opening.mark, cover.material): cover
        for cover in Coverage.objects.filter(line__order=order).select_related("opening")
    }
    assert covers["W1", "membrane-9in"].quantity == Length.inches(264).nm
    assert covers["W1", "membrane-9in"].pieces == {
        str(Length.inches(54.5).nm): 2,
        str(Length.inches(77.5).nm): 2,
    }
    assert covers["W2", "membrane-9in"].quantity == Length.inches(192).nm
    assert covers["W2", "membrane-12in"].quantity == Length.inches(36.5).nm
    assert (covers["W1", "screw-2in"].quantity, covers["W2", "screw-2in"].quantity) == (20, 14)
    assert covers["W1", "foam"].quantity == pytest.approx(Volume.cubic_inches(65.25).pl, abs=1)
    assert {cover.round for cover in covers.values()} == {1}
    assert len(covers) == 16


def test_the_draft_says_when_where_and_from_what(site):
    order = site.draft()

    # needed on Tuesday morning, so there on Monday evening
    assert order.deliver_by == site.monday
    assert order.week == site.monday
    assert order.deliver_to == site.house.project.delivery_place
    assert order.number is None
    assert order.rules_version == "1"
    assert order.specification[site.house.project.code]["settings"]["method"] == "B1"
    assert [row["mark"] for row in order.inputs["openings"]] == ["W1", "W2"]
    assert len(order.input_hash) == 64
