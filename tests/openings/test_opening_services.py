"""Creating, changing, copying openings, and the versions of a specification."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings import selectors, services
from openings.convert import input_of_columns, opening_columns, opening_input
from openings.models import Opening, SpecificationVersion
from openings.takeoff.opening import GlassPanes, OpeningInput
from projects.errors import BadValue, NotAllowed, StaleVersion, Taken
from projects.quantities.length import Length
from projects.quantities.mass import Mass
from tests.factories.houses import HouseFactory

W1 = OpeningInput(
    mark="W1",
    elevation="Front",
    unit_width=Length.inches(36),
    unit_height=Length.inches(60),
    ro_width=Length.inches(36) + Length.mm(12),
    ro_height=Length.inches(61),
)


@pytest.fixture
def house(company):
    return HouseFactory(project__company=company)


def test_an_opening_is_read_back_as_it_was_given(manager, house):
    row = services.create_opening(by=manager, house=house, opening=W1)

    fresh = Opening.objects.of(house.company).select_related("elevation").get(pk=row.pk)

    assert opening_input(fresh) == W1
    assert selectors.opening_inputs(house) == [W1]


def test_a_mark_stands_once_in_a_house(manager, house):
    services.create_opening(by=manager, house=house, opening=W1)

    with pytest.raises(Taken):
        services.create_opening(by=manager, house=house, opening=W1)

    assert Opening.objects.count() == 1


def test_a_removed_opening_frees_its_mark_and_comes_back(manager, house):
    row = services.create_opening(by=manager, house=house, opening=W1)
    services.remove_opening(by=manager, opening=row)
    assert selectors.opening_inputs(house) == []

    services.restore_opening(by=manager, opening=row)

    assert selectors.opening_inputs(house) == [W1]


def test_a_mark_given_anew_keeps_the_removed_opening_out(manager, house):
    row = services.create_opening(by=manager, house=house, opening=W1)
    services.remove_opening(by=manager, opening=row)
    services.create_opening(by=manager, house=house, opening=W1)

    with pytest.raises(Taken):
        services.restore_opening(by=manager, opening=row)


def test_a_stale_edit_changes_nothing(manager, house):
    row = services.create_opening(by=manager, house=house, opening=W1)
    wider = replace(W1, unit_width=Length.inches(36) + Length.mm(1))
    services.edit_opening(by=manager, opening=row, version=1, value=wider)

    with pytest.raises(StaleVersion):
        services.edit_opening(by=manager, opening=row, version=1, value=W1)

    assert selectors.opening_inputs(house) == [wider]


def test_every_save_changes_the_house_fingerprint(manager, house):
    seen = [selectors.fingerprints(house.company, [house])[house.pk]]

    row = services.create_opening(by=manager, house=house, opening=W1)
    seen.append(selectors.fingerprints(house.company, [house])[house.pk])
    services.edit_opening(by=manager, opening=row, version=1, value=replace(W1, note="tall"))
    seen.append(selectors.fingerprints(house.company, [house])[house.pk])
    services.remove_opening(by=manager, opening=row)
    seen.append(selectors.fingerprints(house.company, [house])[house.pk])

    assert len(set(seen)) == 4


def test_a_copied_house_needs_the_same(manager, house):
    services.create_opening(by=manager, house=house, opening=W1)
    gone = services.create_opening(by=manager, house=house, opening=replace(W1, mark="W2"))
    services.remove_opening(by=manager, opening=gone)

    copy = services.copy_house(by=manager, house=house, code="LOT-9", name="Lot 9")

    assert selectors.opening_inputs(copy) == [W1]
    assert not Opening.objects.filter(house=copy, elevation__house=house).exists()


def test_the_foreman_changes_no_opening(foreman, house):
    with pytest.raises(NotAllowed):
        services.create_opening(by=foreman, house=house, opening=W1)

    assert not Opening.objects.exists()


def test_a_project_lies_over_its_company_and_that_over_the_defaults(manager, house):
    services.set_specification(by=manager, project=None, settings={"weep_gap": "2", "back_bead": "3/8"})
    services.set_specification(by=manager, project=house.project, settings={"weep_gap": "4"})

    held = selectors.specification_in_force(house.project)

    assert held.specification.weep_gap == Length.inches(4)
    assert held.specification.back_bead.in_inches == 0.375
    assert held.specification.clearance.in_inches == 0.5
    assert held.label == "1.1"


def test_the_same_settings_make_no_new_version(manager, house):
    services.set_specification(by=manager, project=house.project, settings={"weep_gap": "4"})

    services.set_specification(by=manager, project=house.project, settings={"weep_gap": "4"})

    assert SpecificationVersion.objects.count() == 1


def test_a_refused_setting_writes_no_version(manager, house):
    with pytest.raises(BadValue):
        services.set_specification(by=manager, project=house.project, settings={"weep_gap": "wide"})

    assert not SpecificationVersion.objects.exists()


lengths = st.integers(6 * 25_400_000, 240 * 25_400_000).map(Length)


@given(
    width=lengths,
    offset=st.none() | lengths,
    weight=st.none() | st.integers(1, 10**12).map(Mass),
    glass=st.none() | st.builds(GlassPanes, st.integers(1, 4), st.integers(1, 10**8).map(Length)),
    over_fin=st.sampled_from([None, "none", "membrane", "sealed"]),
    flags=st.lists(st.text(max_size=9), max_size=3).map(tuple),
)
def test_columns_and_value_are_each_other_s_inverse(width, offset, weight, glass, over_fin, flags):
    value = replace(
        W1, unit_width=width, offset=offset, weight=weight, glass=glass, over_fin=over_fin, flags=flags
    )

    columns = {**opening_columns(value), "elevation__name": value.elevation}

    assert input_of_columns(columns) == value
