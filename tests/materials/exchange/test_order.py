"""An order's value holds together before it leaves in any form."""

from __future__ import annotations

from dataclasses import replace

import pytest

from materials.catalogue.load import load_catalogue
from materials.exchange.unit_codes import PACKAGE, UNIT_CODES, unit_code
from projects.errors import BadValue
from projects.quantities.money import Money
from tests.materials.exchange.cast import LINES, ORDER, REFUSED, named


def test_lines_that_do_not_sum_to_the_total_are_refused():
    with pytest.raises(BadValue, match=r"2026-001 do not sum to 94\.01"):
        replace(ORDER, total=Money(94_01))


def test_total_of_a_line_is_packs_times_price():
    # 3 x 29.00 = 87.00
    with pytest.raises(BadValue, match=r"Line 1: 3 at 29\.00 are not 58\.00"):
        replace(LINES[0], packs=3)
    assert replace(LINES[0], packs=3, total=Money(87_00)).packs == 3


@pytest.mark.parametrize("text", REFUSED, ids=ascii)
def test_control_characters_are_refused_in_words(text):
    with pytest.raises(BadValue, match="a line break or a control character"):
        named(text)
    with pytest.raises(BadValue, match="a line break or a control character"):
        replace(ORDER, houses=(text,))


def test_every_pack_of_the_catalogue_has_a_unit_code():
    packs = {pack.label.key for each in load_catalogue().materials.values() for pack in each.packs}

    assert sorted(key for key in packs if unit_code(key) == PACKAGE) == []
    assert {key.partition("-")[0] for key in packs} == set(UNIT_CODES)


def test_unit_code_goes_by_what_a_pack_is():
    # Recommendation 21: RO roll, CQ cartridge, CS case, PK package; Recommendation 20: H87 piece
    assert [unit_code(key) for key in ("roll-50ft", "cartridge-10.1oz", "case-12", "piece", "pail")] == [
        "XRO",
        "XCQ",
        "XCS",
        "H87",
        "XPK",
    ]
