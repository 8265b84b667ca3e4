"""Cut lists: what is cut from which roll, and what becomes of it and of its rest."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction

from materials import services
from materials.errors import NotEnough, NotThereYet
from materials.models import CutList, CutRoll, Lot, Movement, Price
from materials.selectors.cut_pages import day_cut_page, house_cut_page
from materials.selectors.orders import local_today
from projects.errors import BadValue, NotAllowed, NotThere
from projects.quantities.length import Length
from tests.materials.cutting.building import INCH, offcut, rolls, told
from tests.materials.orders.building import build
from tests.materials.stock.building import key, shop, there

pytestmark = pytest.mark.django_db

# W1, 36 x 60: sill and head strip 54.5 each, jambs 77.5 each; W2, 24 x 36: 42.5 each, 53.5 each
# (tests/materials/orders/test_golden.py works them): 456 in of 9 in membrane
LONGEST_FIRST = [77.5, 77.5, 54.5, 54.5, 53.5, 53.5, 42.5, 42.5]


def of_house(site) -> CutList:
    return services.make_cut_list(by=site.by, house=site.house)


def first(cut_list, material="membrane-9in") -> CutRoll:
    return CutRoll.objects.filter(cut_list=cut_list, material=material).earliest("position")


def test_without_stock_every_roll_is_still_to_come(site):
    made = of_house(site)

    # 600 - 456 = 144 in are left of a roll of 50 ft; pans 48.5 + 36.5 of another: 515
    assert told(made) == [("to come", LONGEST_FIRST, 144.0)]
    assert told(made, "membrane-12in") == [("to come", [48.5, 36.5], 515.0)]
    # four flap tapes of sqrt(2) x 9 + 6 = 18.728 in from 165 ft
    ((source, tapes, _),) = told(made, "wrb-tape-3in")
    assert (source, [round(tape, 3) for tape in tapes]) == ("to come", [18.728] * 4)
    assert made.rolls.count() == 3


def test_two_offcuts_that_hold_all_strips_save_the_roll(site):
    offcut(site.by, 240, name="o-17")
    offcut(site.by, 220, name="o-21")

    found = told(of_house(site))

    # such as 77.5 + 77.5 + 42.5 + 42.5 = 240 and 54.5 + 54.5 + 53.5 + 53.5 = 216: of 460 in 4 are left
    assert sorted(source for source, _, _ in found) == ["o-17", "o-21"]
    assert sorted(strip for _, strips, _ in found for strip in strips) == sorted(LONGEST_FIRST)
    assert sum(left for _, _, left in found) == 4


def test_a_days_list_holds_the_elevations_of_that_day_alone(site):
    later = build(site.by, code="LOT-2")
    services.set_need_dates(
        by=site.by, elevations=list(later.house.elevations.all()), day=site.tuesday + timedelta(days=1)
    )

    made = services.make_cut_list(by=site.by, day=site.tuesday)

    assert told(made) == [("to come", LONGEST_FIRST, 144.0)]
    assert {strip["house"] for roll in made.rolls.all() for strip in roll.strips} == {"LOT-1"}


def test_what_lies_in_the_shop_is_cut_first_unless_its_last_good_day_is_over(site):
    rolls(site.by, 1, lot="OLD", last_good=local_today(site.by.company) - timedelta(days=1))
    rolls(site.by, 2, lot="NEW", last_good=site.tuesday)

    assert told(services.make_cut_list(by=site.by, day=site.tuesday)) == [("NEW", LONGEST_FIRST, 144.0)]


def test_two_lists_never_count_on_the_same_roll(site):
    rolls(site.by, 1)
    other = build(site.by, code="LOT-2")

    assert [source for source, _, _ in told(of_house(site))] == ["M9-1"]
    assert [source for source, _, _ in told(of_house(other))] == ["to come"]
    # made anew, a list may count on its own roll again
    assert [source for source, _, _ in told(of_house(site))] == ["M9-1"]


def test_a_roll_that_is_cut_leaves_its_lot_and_its_rest_is_an_offcut(site, hand):
    lot = rolls(site.by, 2)
    roll = first(of_house(site))

    done = services.cut_roll(by=hand, roll=roll, kept_nm=140 * INCH)

    assert there(lot, shop(site.by)) == 1
    rest = Lot.objects.get(pk=done.offcut_id)
    assert (rest.material, rest.pack, rest.number) == ("membrane-9in", "", "M9-1")
    assert rest.piece_size == 140 * INCH
    assert there(rest, shop(site.by)) == 1
    assert done.cut_by == hand.user


def test_a_roll_is_cut_once_however_often_it_is_said(site):
    lot = rolls(site.by, 2)
    roll = first(of_house(site))

    once = services.cut_roll(by=site.by, roll=roll, kept_nm=100 * INCH)
    again = services.cut_roll(by=site.by, roll=roll, kept_nm=50 * INCH)

    assert again.offcut_id == once.offcut_id
    assert there(lot, shop(site.by)) == 1
    assert Movement.objects.filter(lot__material="membrane-9in").count() == 3  # counted in, used, its rest


def test_nothing_is_kept_where_nothing_is_given(site):
    rolls(site.by, 1)

    done = services.cut_roll(by=site.by, roll=first(of_house(site)), kept_nm=0)

    assert done.offcut is None
    assert Lot.objects.count() == 1


def test_more_than_is_left_is_refused_and_nothing_is_written(site):
    lot = rolls(site.by, 1)
    roll = first(of_house(site))

    with pytest.raises(BadValue, match=r"145|12'-1"):
        services.cut_roll(by=site.by, roll=roll, kept_nm=145 * INCH)

    assert there(lot, shop(site.by)) == 1
    assert CutRoll.objects.get(pk=roll.pk).cut_at is None


def test_a_roll_that_is_still_to_come_or_gone_is_not_cut(site):
    with pytest.raises(NotThereYet):
        services.cut_roll(by=site.by, roll=first(of_house(site)), kept_nm=0)
    lot = rolls(site.by, 1)
    roll = first(of_house(site))
    services.take_from_lot(by=site.by, lot=lot, place=shop(site.by), kind="scrap", pieces=1, key=key())

    with pytest.raises(NotEnough):
        services.cut_roll(by=site.by, roll=roll, kept_nm=100 * INCH)
    assert Lot.objects.count() == 1


def test_made_anew_the_list_keeps_what_is_cut_and_lays_out_the_rest(site):
    rolls(site.by, 1)
    made = of_house(site)
    services.cut_roll(by=site.by, roll=first(made), kept_nm=0)

    again = of_house(site)

    assert told(again) == [("M9-1", LONGEST_FIRST, 144.0)]
    assert {roll.material for roll in again.rolls.filter(cut_at=None)} == {"wrb-tape-3in", "membrane-12in"}
    # what one list has cut, no other cuts again
    day = services.make_cut_list(by=site.by, day=site.tuesday)
    assert told(day) == []


def test_a_wider_window_makes_the_list_stale_until_it_is_made_anew(site):
    of_house(site)
    assert not house_cut_page(site.by.company, site.house.pk).is_stale

    site.widen("W2", 30)

    assert house_cut_page(site.by.company, site.house.pk).is_stale
    # W2 is 6 in wider: sill and head strip 48.5
    assert told(of_house(site)) == [("to come", [77.5, 77.5, 54.5, 54.5, 53.5, 53.5, 48.5, 48.5], 132.0)]
    assert not house_cut_page(site.by.company, site.house.pk).is_stale


def test_a_material_without_stock_or_price_is_named_and_all_else_is_laid_out(site):
    Price.objects.filter(material="membrane-12in").delete()

    page = house_cut_page(site.by.company, of_house(site).house_id)

    (problem,) = page.problems
    assert problem.problem.endswith("Nothing lies in stock, and no supplier has a price.")
    assert {material.key for material in page.materials} == {"membrane-9in", "wrb-tape-3in"}
    assert not page.is_stale


def test_the_crew_cuts_but_the_foreman_or_the_office_makes_the_list(site, hand, stranger):
    with pytest.raises(NotAllowed):
        services.make_cut_list(by=hand, house=site.house)
    with pytest.raises(NotThere):
        services.make_cut_list(by=stranger, house=site.house)
    assert day_cut_page(stranger.company, site.tuesday).wanted == 0


def test_the_database_keeps_a_roll_that_was_cut(site):
    rolls(site.by, 1)
    roll = services.cut_roll(by=site.by, roll=first(of_house(site)), kept_nm=0)

    for change in (lambda rows: rows.update(left_nm=1), lambda rows: rows.delete()):
        with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
            change(CutRoll.objects.filter(pk=roll.pk))


def test_lengths_are_exact(site):
    """What is cut and what is left of a roll come to its length, to the nanometre."""
    for roll in of_house(site).rolls.all():
        assert sum(strip["length"] for strip in roll.strips) + roll.left_nm == roll.length_nm
    assert first(of_house(site)).length_nm == Length.inches(600).nm
