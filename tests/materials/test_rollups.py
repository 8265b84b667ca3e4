"""What houses come to is always what holds now, whether it was kept before or not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from materials.catalogue.rollup import pack_house
from materials.models import KeptRollUp
from materials.selectors.rollups import roll_ups_of
from materials.services.rollups import keep_roll_ups
from openings import selectors, services
from openings.convert import opening_input
from openings.models import Opening
from openings.takeoff.compute import take_off_house
from projects.selectors import live_houses
from projects.services import archive_house
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.openings import INCH, OpeningFactory


@pytest.fixture
def house(company):
    house = HouseFactory(project__company=company)
    face = ElevationFactory(house=house)
    OpeningFactory.create_batch(3, house=house, elevation=face)
    OpeningFactory(house=house, elevation=face, unit_width_nm=48 * INCH, ro_width_nm=49 * INCH, mulls=1)
    return house


@pytest.fixture
def kept(company, house):
    assert keep_roll_ups(company=company) == 1
    return house


def totals_of(company):
    """Return what the company's one house comes to, and whether that was made now."""
    (house,) = live_houses(company)
    found = roll_ups_of(company, [house])
    return found.totals[house.pk], house.pk in found.made


def taken_off(house):
    """Return what taking the house off, line by line, comes to now."""
    demand = taken_off_demand(house)
    return demand, pack_house(demand, selectors.specification_in_force(house.project).specification)


def taken_off_demand(house):
    specification = selectors.specification_in_force(house.project).specification
    return take_off_house(selectors.opening_inputs(house), specification).demand


def holds_now(company, house):
    """Return whether the roll-up says what the takeoff says."""
    totals, _ = totals_of(company)
    return (totals.demand, totals.packs) == taken_off(house)


def test_roll_up_is_what_the_takeoff_says(company, house):
    totals, made = totals_of(company)

    assert made
    assert (totals.openings, totals.refused) == (4, 0)
    assert (totals.demand, totals.packs) == taken_off(house)


def test_kept_roll_up_is_read_back_as_it_was_made(company, house):
    before, _ = totals_of(company)
    keep_roll_ups(company=company)

    after, made = totals_of(company)

    assert not made
    assert after == before


def test_reading_roll_ups_writes_nothing(company, house):
    totals_of(company)

    assert not KeptRollUp.objects.exists()


def test_keeping_again_keeps_nothing_where_nothing_changed(company, kept):
    row = KeptRollUp.objects.get()

    assert keep_roll_ups(company=company) == 0

    assert KeptRollUp.objects.get().made_at == row.made_at


def test_stale_roll_up_is_replaced_in_its_row(company, manager, kept):
    services.remove_opening(by=manager, opening=Opening.objects.first())

    assert keep_roll_ups(company=company) == 1

    assert KeptRollUp.objects.count() == 1
    totals, made = totals_of(company)
    assert totals.openings == 3
    assert not made


def test_edited_opening_makes_its_roll_up_stale(company, manager, kept):
    row = Opening.objects.select_related("elevation").first()
    wider = replace(
        opening_input(row),
        unit_width=opening_input(row).unit_width * 2,
        ro_width=opening_input(row).ro_width * 2,
    )
    services.edit_opening(by=manager, opening=row, version=row.version, value=wider)

    assert totals_of(company)[1]
    assert holds_now(company, kept)


def test_removed_and_restored_opening_makes_its_roll_up_stale(company, manager, kept):
    before, _ = totals_of(company)
    row = services.remove_opening(by=manager, opening=Opening.objects.first())
    without, made = totals_of(company)

    services.restore_opening(by=manager, opening=row)

    assert made
    assert without.openings == 3
    assert totals_of(company) == (before, True)


def test_added_opening_makes_its_roll_up_stale(company, manager, kept):
    value = replace(opening_input(Opening.objects.select_related("elevation").first()), mark="Z1")
    services.create_opening(by=manager, house=kept, opening=value)

    assert totals_of(company)[1]
    assert holds_now(company, kept)


def test_imported_schedule_makes_its_roll_up_stale(company, manager, kept):
    content = b"elevation,mark,unit_width,unit_height\nFront,X1,30,48\n"
    schedule = services.start_import(by=manager, house=kept, file_name="lot.csv", content=content)
    services.confirm_import(by=manager, schedule_import=schedule)

    totals, made = totals_of(company)

    assert made
    assert totals.openings == 5
    assert holds_now(company, kept)


@pytest.mark.parametrize("whose", ["company", "project"])
def test_changed_setting_makes_roll_ups_stale(company, owner, kept, whose):
    project = kept.project if whose == "project" else None
    services.set_specification(by=owner, project=project, settings={"roll_length": "25 ft"})

    totals, made = totals_of(company)

    assert made
    # 8 jamb strips of 77.5, 2 strips of 67, 6 of 54.5, on 300 in: 3 jambs and a 67 on two rolls, 2 jambs and
    # two 54.5 on the third, four 54.5 on the fourth; a roll of 900 in would do with two
    assert totals.packs.rolls[9 * INCH] == 4
    assert holds_now(company, kept)


def test_note_of_another_house_leaves_a_roll_up_kept(company, kept):
    other = HouseFactory(project=kept.project)
    OpeningFactory(house=other, elevation=ElevationFactory(house=other))

    found = roll_ups_of(company, list(live_houses(company)))

    assert set(found.made) == {other.pk}


def test_each_house_is_rolled_up_under_its_own_project(company, owner, house):
    elsewhere = HouseFactory(project=ProjectFactory(company=company))
    OpeningFactory(house=elsewhere, elevation=ElevationFactory(house=elsewhere))
    services.set_specification(by=owner, project=elsewhere.project, settings={"method": "A"})

    found = roll_ups_of(company, list(live_houses(company))).totals

    assert list(found) == [house.pk, elsewhere.pk]
    for each in (house, elsewhere):
        assert (found[each.pk].demand, found[each.pk].packs) == taken_off(each)


def test_houses_of_one_plan_come_to_the_same_and_a_changed_copy_to_its_own(company, owner, house):
    copies = [
        services.copy_house(by=owner, house=house, code=code, name=code) for code in ("COPY-1", "COPY-2")
    ]
    OpeningFactory(house=copies[1], elevation=copies[1].elevations.get())

    found = roll_ups_of(company, list(live_houses(company))).totals

    assert found[house.pk] == found[copies[0].pk] != found[copies[1].pk]
    for each in (house, *copies):
        assert (found[each.pk].demand, found[each.pk].packs) == taken_off(each)


def test_roll_up_without_packs_is_kept_as_well(company, owner, house):
    services.set_specification(by=owner, project=None, settings={"roll_length": "50"})

    assert keep_roll_ups(company=company) == 1

    totals, made = totals_of(company)
    assert totals.packs is None
    assert totals.demand == taken_off_demand(house)
    assert not made


def test_archived_and_foreign_houses_are_left_alone(company, manager, stranger, house):
    foreign = HouseFactory(project__company=stranger.company)
    OpeningFactory(house=foreign, elevation=ElevationFactory(house=foreign))
    archive_house(by=manager, house=house)

    assert keep_roll_ups(company=company) == 0


def test_a_house_without_openings_comes_to_nothing(company):
    HouseFactory(project__company=company)

    totals, _ = totals_of(company)

    assert totals.openings == 0
    assert totals.packs.fasteners == 0


@pytest.mark.parametrize("houses", [1, 20])
@pytest.mark.parametrize("kept", [True, False])
def test_roll_ups_take_the_same_queries_at_any_size(company, django_assert_num_queries, houses, kept):
    project = ProjectFactory(company=company)
    for house in HouseFactory.create_batch(houses, project=project):
        OpeningFactory(house=house, elevation=ElevationFactory(house=house))
    if kept:
        keep_roll_ups(company=company)
    rows = list(live_houses(company).select_related("project__company"))

    # settings of company and project, fingerprints, kept rows, and the openings where nothing is kept
    with django_assert_num_queries(3 if kept else 4):
        roll_ups_of(company, rows)
