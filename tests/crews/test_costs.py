"""Planned cost from rows: one opening by hand, the house to the cent, what is not priced."""

from __future__ import annotations

import datetime as dt

import pytest

from crews import services
from crews.costing.verify import verify
from crews.selectors import month
from crews.selectors.cost_pages import costs_page, opening_costs
from crews.selectors.costs import NO_WAGES, cost_houses, rentals_of
from materials import services as material_services
from materials.models import Price
from openings.models import Opening
from projects.actors import CommandLine
from projects.models import Elevation, House
from projects.quantities.money import Money
from tests.factories.crews import MONDAY, crew_of, face_of, house_with

pytestmark = pytest.mark.django_db
EARLY = dt.date(2020, 1, 1)


def sell(company, prices, code="NORTH", valid_from=EARLY):
    by = CommandLine(company)
    supplier = material_services.set_supplier(by=by, supplier=None, code=code, name=f"{code} Supply")
    for (material, pack), amount in prices.items():
        material_services.set_price(
            by=by,
            supplier=supplier,
            material=material,
            pack=pack,
            price=Money.of(amount),
            valid_from=valid_from,
        )
    return supplier


MEMBRANES = {("membrane-9in", "roll-75ft"): "42.00", ("membrane-12in", "roll-75ft"): "58.00"}


def cost(house):
    row = House.objects.select_related("project__company", "company").get(pk=house.pk)
    return cost_houses(row.company, [row])[0]


def test_one_opening_costs_what_it_does_by_hand(company):
    crew_of(company, wages=(3000, 2000))
    sell(company, MEMBRANES)
    found = cost(house_with(company))

    # Material: 9 in strips 22 ft and the pan 4.04 ft, each from a whole roll: 42.00 + 58.00. Nothing else has
    # a price. Labour: mean wage 25.00 + 40 % = 35.00 an hour, 58 1/3 cents a minute. Steps: check 4 2.33, cut
    # 2 1.17, sill 3 1.75, pan 7 4.08, jambs 5 2.92, unpack 4 2.33, bead 4 2.33, set 16 9.33, fasten 5 2.92,
    # look 3 1.75, head 3 1.75, flap 4 2.33, inside 6 3.50, move 5 x 2 5.83: 44.32. Set-up 76 min x 105/375 =
    # 21.28 min: 12.41. From the ground nothing is rented.
    opening = found.openings[0].cost
    assert opening.material == Money.of("100.00")
    assert opening.labour == Money.of("56.73")
    assert opening.other == Money(0)
    assert found.cost.total == opening.total == Money.of("156.73")
    assert "Window sealant has no price, so it is not in the cost." in found.notices


def test_the_pack_that_comes_cheapest_for_the_house_is_counted(company):
    crew_of(company)
    # one roll of 50 ft holds the 22 ft: 29.00 is less than 42.00, although a foot of it is dearer
    sell(company, {**MEMBRANES, ("membrane-9in", "roll-50ft"): "29.00"})
    sell(company, {("membrane-9in", "roll-50ft"): "31.00"}, code="SOUTH")

    lines = [
        p
        for p in cost(house_with(company)).openings[0].cost.parts
        if p.name.startswith("Flashing membrane 9")
    ]

    assert sum(line.amount.cents for line in lines) == 2900


def test_pieces_are_charged_as_used_and_not_by_the_box(company):
    crew_of(company)
    sell(company, {("screw-2in", "box-500"): "42.00"})

    # 20 screws at 42.00 / 500 = 0.084: 1.68
    assert cost(house_with(company)).openings[0].cost.material == Money.of("1.68")


@pytest.mark.parametrize("access", ["ground", "ladder", "lift"])
def test_access_is_rented_by_the_day_and_shared_by_work(company, foreman, access):
    crew = crew_of(company)
    house = house_with(company, "Front,W1,36,60,,,", "Front,W2,36,60,,,", "Rear,W3,36,60,,,")
    Elevation.objects.filter(house=house, name="Front").update(access=access)
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house), day=MONDAY)

    other = {each.cost.mark: each.cost.other.cents for each in cost(house).openings}

    # one day as sent, over two like openings: a ladder 12.00, a lift 165.00, until the company says otherwise
    half = {"ground": 0, "ladder": 600, "lift": 8250}[access]
    assert other == {"W1": half, "W2": half, "W3": 0}


def test_the_companys_own_rent_replaces_the_estimate(company, manager):
    assert rentals_of(company)["lift"].grade == "E"

    services.set_rental(
        by=manager, access="lift", per_day=Money.of("150.00"), source="Rental sheet", grade="P"
    )

    assert rentals_of(company)["lift"].per_day == Money.of("150.00")
    assert rentals_of(company)["lift"].source == "Rental sheet"


def test_the_houses_own_crews_set_its_wages(company, foreman):
    crew_of(company, "RED", wages=(3000, 3000))
    blue = crew_of(company, "BLUE", wages=(1500, 1500))
    house = house_with(company)
    before = cost(house).cost.total

    services.assign_crew(by=foreman, crew=blue, elevation=face_of(house), day=MONDAY)

    # all crews' mean is 22.50 an hour; BLUE's alone is 15.00
    assert cost(house).cost.total.cents < before.cents


def test_openings_sum_to_the_house_and_hold_their_check(company):
    crew_of(company, wages=(3400, 2700, 2100))
    sell(company, {**MEMBRANES, ("sealant", "cartridge-10.1oz"): "9.00", ("foam", "can"): "13.00"})
    rows = [f"Front,W{number},{20 + 3 * number},{30 + number},,,sealed" for number in range(1, 12)]
    house = house_with(company, *rows)
    Elevation.objects.filter(house=house).update(access="ladder")

    found = cost(house)

    assert sum(each.cost.total.cents for each in found.openings) == found.cost.total.cents
    assert all(
        sum(part.amount.cents for part in each.cost.parts) == each.cost.total.cents for each in found.openings
    )


def test_the_inputs_and_the_cost_agree_when_worked_out_anew(company):
    from crews.convert.costs import Face, Rates, crew_rate, house_work
    from crews.costing.compute import cost_house
    from openings.selectors import opening_inputs, specification_in_force
    from openings.takeoff.compute import take_off_house

    crew = crew_of(company)
    sell(company, MEMBRANES)
    house = house_with(company, "Front,W1,36,60,,,sealed", "Front,W2,24,36,,,")
    taken = take_off_house(opening_inputs(house), specification_in_force(house.project).specification)
    rate = crew_rate(crew.members.all(), "USD")
    rates = Rates(rate, 2, {"lift": Money.of(165)}, list(Price.objects.all()), "USD")

    work = house_work(taken, [Face("Front", "lift", 1)], rates, rate).work

    assert verify(work, cost_house(work)) == ()


def test_without_wages_there_is_no_cost_and_a_reason(company):
    crew_of(company, wages=(None, None))

    found = cost(house_with(company))

    assert found.cost is None
    assert found.notices == (NO_WAGES,)


def test_a_wider_window_costs_more(company):
    crew_of(company)
    sell(company, MEMBRANES)
    house = house_with(company)
    before = cost(house).cost

    Opening.objects.update(unit_width_nm=60 * 25_400_000, ro_width_nm=61 * 25_400_000)

    assert cost(house).cost.total.cents > before.total.cents


@pytest.mark.parametrize("houses", [1, 20])
def test_costs_take_the_same_queries_for_any_number_of_houses(company, django_assert_num_queries, houses):
    crew_of(company)
    sell(company, MEMBRANES)
    for _ in range(houses):
        house_with(company)

    with django_assert_num_queries(9):
        page = costs_page(company, "1")

    assert len(page.houses) == houses


def test_an_openings_lines_are_found_with_its_house(company):
    crew_of(company)
    house = house_with(company, "Front,W1,36,60,,,", "Front,W2,24,36,,,")
    row = Opening.objects.get(mark="W2")

    found, shown = opening_costs(company, row.pk)

    assert found.house == house
    assert shown.costed.cost.mark == "W2"
    assert sum(amount.cents for _, amount, _ in shown.groups) == shown.total.cents


def test_the_month_says_what_moved_since_the_one_before(company, foreman, time_machine):
    time_machine.move_to(dt.datetime(2026, 6, 20, 12, tzinfo=dt.UTC))
    crew = crew_of(company)
    small = house_with(company, "Front,W1,24,36,,,")
    large = house_with(company, "Front,W2,72,60,,,")
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(small), day=dt.date(2026, 5, 11))
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(large), day=MONDAY)

    page = month.month_page(company)

    assert (page.now.openings, page.before.openings) == (1, 1)
    assert page.moved_most.group == "labour"
    assert page.moved_most.by.cents > 0
    assert sum(each.by.cents for each in page.moved) == page.now.total.cents - page.before.total.cents


def test_prices_alone_are_told_apart_from_the_rest(company, foreman, time_machine):
    time_machine.move_to(dt.datetime(2026, 6, 20, 12, tzinfo=dt.UTC))
    crew = crew_of(company)
    everything = {
        **MEMBRANES, ("foam", "can"): "13.00", ("pan-corner", "piece"): "1.60", ("screw-2in",
        "box-500"): "42.00",
        ("sealant", "cartridge-10.1oz"): "9.00", ("shims", "bundle-50"): "7.50", ("wrb-tape-3in",
        "roll-165ft"): "16.00",
    }  # fmt: skip
    supplier = sell(company, everything)
    material_services.set_price(
        by=CommandLine(company), supplier=supplier, material="membrane-9in", pack="roll-75ft",
        price=Money.of("45.00"), valid_from=dt.date(2026, 6, 2),
    )  # fmt: skip
    house = house_with(company)
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house), day=MONDAY)

    # one roll, one opening: 45.00 - 42.00
    assert month.month_page(company).by_prices == Money.of("3.00")


def test_houses_to_look_at_say_why(company, foreman, time_machine):
    time_machine.move_to(dt.datetime(2026, 6, 7, 12, tzinfo=dt.UTC))
    crew = crew_of(company)
    house = house_with(company, accepted=False)
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house), day=MONDAY)

    (look,) = month.houses_to_look_at(company)

    assert look.house == house
    assert "RED goes to Front on Mon 8 Jun, but 1 window is not accepted: W1." in look.reasons
