"""Crews and their people: set up, changed, put away; wages are the office's."""

from __future__ import annotations

import pytest

from crews import services
from crews.models import Crew, CrewMember, Rental
from projects.errors import Archived, BadValue, NotAllowed, NotThere, StaleVersion, Taken
from projects.models import AuditEntry
from projects.quantities.money import Money
from tests.factories.crews import crew_of

pytestmark = pytest.mark.django_db


def test_a_crew_is_set_up_with_the_usual_day(foreman):
    crew = services.create_crew(by=foreman, code="RED", name="Red truck")

    # 7:00 to 15:30, lunch at noon, 75 + 30 = 105 minutes of truck and set-up (field guide 8, E)
    assert (crew.day_start_min, crew.day_end_min, crew.breaks) == (420, 930, [[720, 750]])
    assert crew.set_up_min + crew.clean_up_min == 105
    assert "knife and a pack of blades" in crew.par_list
    assert AuditEntry.objects.get(action="create crew").actor == foreman.name


def test_a_code_is_used_once_in_any_case(foreman):
    services.create_crew(by=foreman, code="RED", name="Red truck")

    with pytest.raises(Taken):
        services.create_crew(by=foreman, code="red", name="Other truck")

    assert Crew.objects.count() == 1


@pytest.mark.parametrize(
    "day",
    [
        {"day_start_min": 420, "day_end_min": 500},
        {"breaks": [(720, 700)]},
        {"breaks": [(720, 750), (740, 760)]},
        {"breaks": [(495, 900)]},
    ],
    ids=["no work left", "a break that ends first", "breaks that overlap", "a break all day"],
)
def test_a_day_without_a_minute_to_work_is_refused(foreman, day):
    with pytest.raises(BadValue):
        services.create_crew(by=foreman, code="RED", name="Red truck", **day)

    assert not Crew.objects.exists()
    assert not AuditEntry.objects.filter(action="create crew").exists()


def test_a_stale_save_is_refused_with_who_was_first(foreman, company):
    crew = crew_of(company)
    services.edit_crew(by=foreman, crew=crew, version=1, code="RED", name="Red van")

    with pytest.raises(StaleVersion) as refusal:
        services.edit_crew(by=foreman, crew=crew, version=1, code="RED", name="Red lorry")

    assert refusal.value.parameters["who"] == foreman.name
    assert Crew.objects.get().name == "Red van"


def test_an_archived_crew_takes_nobody_and_comes_back(foreman, company):
    crew = services.archive_crew(by=foreman, crew=crew_of(company))

    with pytest.raises(Archived):
        services.add_member(by=foreman, crew=crew, name="Nell Farrow", grade="helper")

    assert not services.restore_crew(by=foreman, crew=crew).archived
    assert not CrewMember.objects.filter(name="Nell Farrow").exists()


def test_a_foreman_adds_people_and_sets_no_wage(foreman, manager, company):
    crew = crew_of(company, wages=())
    person = services.add_member(by=foreman, crew=crew, name="Nell Farrow", grade="helper")

    with pytest.raises(NotAllowed):
        services.set_wage(by=foreman, member=person, wage=Money.of(21), burden_percent=40)

    assert person.wage_cents is None
    assert (
        services.set_wage(by=manager, member=person, wage=Money.of(21), burden_percent=40).wage_cents == 2100
    )


@pytest.mark.parametrize(("wage", "burden"), [("0", 40), ("1000.01", 40), ("21", 201), ("21", -1)])
def test_a_wage_or_burden_out_of_range_is_refused(manager, company, wage, burden):
    person = crew_of(company).members.first()

    with pytest.raises(BadValue):
        services.set_wage(by=manager, member=person, wage=Money.of(wage), burden_percent=burden)

    assert CrewMember.objects.get(pk=person.pk).wage_cents == 3000


def test_the_same_name_twice_in_a_crew_is_refused(foreman, company):
    crew = crew_of(company, wages=())
    services.add_member(by=foreman, crew=crew, name="Nell Farrow", grade="helper")

    with pytest.raises(Taken):
        services.add_member(by=foreman, crew=crew, name="nell farrow", grade="lead")


def test_somebody_of_another_company_signs_in_for_no_crew_here(foreman, stranger, company):
    crew = crew_of(company, wages=())

    with pytest.raises(BadValue):
        services.add_member(by=foreman, crew=crew, name="Sable", grade="lead", user=stranger.user)

    assert not crew.members.exists()


def test_a_removed_person_is_taken_back(foreman, company):
    person = crew_of(company).members.first()
    services.remove_member(by=foreman, member=person)

    assert not services.restore_member(by=foreman, member=person).archived


def test_rents_are_the_offices_and_within_reason(foreman, manager):
    with pytest.raises(NotAllowed):
        services.set_rental(by=foreman, access="lift", per_day=Money.of(150), source="invoice")
    with pytest.raises(BadValue):
        services.set_rental(by=manager, access="ground", per_day=Money.of(150), source="invoice")
    with pytest.raises(BadValue):
        services.set_rental(by=manager, access="lift", per_day=Money(-1), source="invoice")

    assert not Rental.objects.exists()
    services.set_rental(by=manager, access="lift", per_day=Money.of(150), source="invoice")
    changed = services.set_rental(by=manager, access="lift", per_day=Money.of(155), source="invoice")
    assert (changed.cents_per_day, Rental.objects.count()) == (15500, 1)


def test_another_companys_crew_is_not_there(stranger, company):
    with pytest.raises(NotThere):
        services.archive_crew(by=stranger, crew=crew_of(company))
