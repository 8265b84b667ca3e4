"""The demo's suppliers sell all that its houses need, at plausible prices; its stock is of the catalogue."""

from __future__ import annotations

from fractions import Fraction

import pytest

from materials.catalogue.load import load_catalogue
from materials.catalogue.meet import meet_demand
from openings.takeoff.compute import take_off_house
from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.quantities.text import parse_length
from tests.config.demo import houses, toml


def sold() -> dict[tuple[str, str], dict[str, Money]]:
    """Return price by supplier for each material and pack."""
    found: dict[tuple[str, str], dict[str, Money]] = {}
    for supplier in toml("suppliers.toml")["suppliers"]:
        for row in supplier["prices"]:
            prices = found.setdefault((row["material"], row["pack"]), {})
            assert supplier["code"] not in prices, f"{supplier['code']} has two prices for {row}"
            prices[supplier["code"]] = Money.of(row["price"])
    return found


def test_every_material_of_the_catalogue_can_be_bought():
    assert {material for material, _ in sold()} == set(load_catalogue().materials)


@pytest.mark.parametrize("code", list(houses()))
def test_all_that_a_house_needs_can_be_bought(code):
    house = houses()[code]
    takeoff = take_off_house(house.openings, house.specification)

    met = meet_demand(takeoff.demand, house.specification, load_catalogue())

    assert list(met.problems) == []
    assert {need.material.key for need in met.needs} <= {material for material, _ in sold()}


@pytest.mark.parametrize("code", list(houses()))
def test_no_piece_is_longer_than_what_it_is_cut_from(code):
    house = houses()[code]
    takeoff = take_off_house(house.openings, house.specification)

    for need in meet_demand(takeoff.demand, house.specification, load_catalogue()).needs:
        longest = max(pack.contains for pack in need.material.packs)

        assert max(need.pieces, default=0) <= longest, need.material.key


def test_prices_stay_near_those_of_the_catalogue():
    catalogue = load_catalogue()

    for (material, pack), prices in sold().items():
        listed = catalogue.material(material).pack(pack).label.price
        for price in prices.values():
            ratio = Fraction(price.cents, listed.amount.cents)
            assert Fraction(9, 10) <= ratio <= Fraction(6, 5), f"{material} {pack}"


def test_prices_are_the_field_guide_s_where_it_names_one():
    dunmarrow = {key: prices["DUNMARROW"].as_text for key, prices in sold().items() if "DUNMARROW" in prices}

    # field guide, section 11
    assert dunmarrow["membrane-4in", "roll-75ft"] == "19.00"
    assert dunmarrow["membrane-6in", "roll-75ft"] == "28.00"
    assert dunmarrow["membrane-9in", "roll-75ft"] == "42.00"
    assert dunmarrow["membrane-12in", "roll-75ft"] == "58.00"
    assert dunmarrow["sealant", "cartridge-10.1oz"] == "9.00"
    assert dunmarrow["sealant", "case-12"] == "102.00"
    assert dunmarrow["screw-2in", "box-500"] == "42.00"
    assert dunmarrow["corner-patch", "box-100"] == "65.00"
    assert dunmarrow["pan-corner", "piece"] == "1.60"
    assert dunmarrow["foam", "can"] == "13.00"
    assert dunmarrow["wrb-tape-3in", "roll-165ft"] == "16.00"


def test_the_faster_supplier_is_the_dearer_one():
    by_code = {supplier["code"]: supplier for supplier in toml("suppliers.toml")["suppliers"]}

    assert by_code["HALFPENNY"]["lead_days"] < by_code["DUNMARROW"]["lead_days"]
    assert Money.of(by_code["HALFPENNY"]["minimum"]) < Money.of(by_code["DUNMARROW"]["minimum"])
    for prices in sold().values():
        if len(prices) == 2:
            assert prices["HALFPENNY"] > prices["DUNMARROW"]


def test_suppliers_and_builders_have_made_up_addresses():
    firms = toml("suppliers.toml")["suppliers"] + toml("projects.toml")["builders"]

    assert [firm["code"] for firm in firms if not firm["email"].endswith(".example")] == []


def test_stock_is_of_the_catalogue():
    catalogue = load_catalogue()
    lots = toml("stock.toml")["lots"]

    assert len({lot["lot"] for lot in lots}) == len(lots)
    for lot in lots:
        material = catalogue.material(lot["material"])
        if "pack" in lot:
            assert material.pack(lot["pack"]).contains * lot["packs"] > 0
        else:
            assert material.unit == "pieces"
            assert lot["pieces"] > 0


def test_one_lot_runs_out_of_date_between_the_two_weeks():
    early = [lot["lot"] for lot in toml("stock.toml")["lots"] if lot.get("last_good_day", 999) < 7]

    assert early == ["S-114"]


def test_offcuts_are_long_enough_to_use():
    for offcut in toml("stock.toml")["offcuts"]:
        material = load_catalogue().material(offcut["material"])

        # 36 in: the cut plan's example of a usable offcut
        assert Length.inches(36) <= parse_length(offcut["length"])
        assert parse_length(offcut["length"]).nm < min(pack.contains for pack in material.packs)
