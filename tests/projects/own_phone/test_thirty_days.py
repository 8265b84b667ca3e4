"""U16: on a phone of one's own the password is typed once in 30 days; elsewhere the clocks stay."""

from __future__ import annotations

import pytest
import time_machine
from django.conf import settings

from projects.models import Device, Role
from projects.models.device import KEPT_FOR
from projects.sessions import ON_SITE
from tests.factories.people import CompanyFactory, MembershipFactory
from tests.projects.own_phone.phone import DAY, HOUR, MORNING, Phone, told

pytestmark = pytest.mark.django_db
SECOND = HOUR / 3600


def mornings(person, *, own, days):
    """Return the days on which the password was typed, by somebody who looks every morning and noon."""
    phone, typed = Phone(), []
    with time_machine.travel(MORNING, tick=False) as clock:
        for day in days:
            for hours in (0, 5):
                before = phone.typed
                clock.move_to(MORNING + day * DAY + hours * HOUR)
                phone.look(person, own=own)
                typed += [day] * (phone.typed - before)
    return typed


@pytest.mark.parametrize("role", [Role.CREW, Role.FOREMAN])
def test_on_site_the_password_is_typed_once_in_thirty_days(company, role):
    person = MembershipFactory(company=company, role=role)

    # from 7:00 of day 0 it lasts until 7:00 of day 30, where noon asks; from there until noon of day 60
    assert mornings(person, own=True, days=range(62)) == [0, 30, 61]


def test_from_the_first_morning_to_the_thirty_first_it_is_typed_twice(hand):
    assert mornings(hand, own=True, days=range(30)) == [0]
    assert mornings(hand, own=True, days=[*range(30), 31]) == [0, 31]


def test_without_the_tick_every_morning_asks(hand):
    """The negative control: 12 hours without a request end a session, and Device has nothing to open."""
    assert mornings(hand, own=False, days=range(4)) == [0, 1, 2, 3]
    assert not Device.objects.exists()


def test_thirty_days_are_counted_from_the_sign_in_to_the_second(hand):
    phone, late = Phone(), Phone()
    with time_machine.travel(MORNING, tick=False) as clock:
        phone.sign_in(hand)
        late.sign_in(hand)
        clock.move_to(MORNING + 30 * DAY)
        assert phone.is_in()
        clock.move_to(MORNING + 30 * DAY + SECOND)
        assert not phone.is_in()
        assert not late.is_in()


def test_the_cookie_lives_no_longer_than_thirty_days_from_the_sign_in(hand):
    phone = Phone()
    with time_machine.travel(MORNING, tick=False) as clock:
        first = told(phone.sign_in(hand))
        clock.move_to(MORNING + 10 * DAY)
        later = told(phone.client.get("/"))

    # 30 days are 2,592,000 s; 20 of them are left on the tenth
    assert (first["max-age"], later["max-age"]) == (2_592_000, 1_728_000)


def test_a_phone_and_a_session_last_equally_long():
    assert ON_SITE.absolute == KEPT_FOR.total_seconds()


@pytest.mark.parametrize("role", [Role.OWNER, Role.MANAGER])
def test_at_the_desk_the_tick_does_nothing_and_says_so(company, role):
    person, phone = MembershipFactory(company=company, role=role), Phone()
    with time_machine.travel(MORNING, tick=False) as clock:
        answer = phone.sign_in(person)
        page = phone.client.get("/").content.decode()
        clock.shift(2 * HOUR + SECOND)
        asked = not phone.is_in()

    assert told(answer) is None
    assert "Staying signed in for 30 days is for the foreman and the crew." in page
    assert asked
    assert not Device.objects.exists()


def test_who_works_at_the_desk_of_another_company_does_not_stay_signed_in(hand):
    MembershipFactory(company=CompanyFactory(code="OTHER"), user=hand.user, role=Role.MANAGER)
    phone = Phone()

    assert told(phone.sign_in(hand)) is None
    assert not Device.objects.exists()


def test_a_quiet_opening_is_a_session_with_a_new_id_and_the_old_one_is_dead(hand):
    """R22: 20 of 20."""
    phone = Phone()
    with time_machine.travel(MORNING, tick=False) as clock:
        phone.sign_in(hand)
        for _ in range(20):
            before = phone.session
            clock.shift(13 * HOUR)
            assert phone.is_in()
            assert phone.session != before
            thief = Phone()
            thief.client.cookies[settings.SESSION_COOKIE_NAME] = before
            assert not thief.is_in()


def test_a_session_without_its_phone_ends_after_twelve_hours(hand):
    phone = Phone()
    with time_machine.travel(MORNING, tick=False) as clock:
        phone.sign_in(hand)
        thief = Phone()
        thief.client.cookies[settings.SESSION_COOKIE_NAME] = phone.session
        clock.shift(12 * HOUR)
        assert thief.is_in()
        clock.shift(12 * HOUR + SECOND)
        assert not thief.is_in()


def test_the_company_worked_for_stays_over_night(hand):
    other = MembershipFactory(
        company=CompanyFactory(code="ZEBRA", name="Zebra Setters"), user=hand.user, role=Role.FOREMAN
    )
    phone = Phone()
    with time_machine.travel(MORNING, tick=False) as clock:
        phone.sign_in(hand)
        phone.client.post("/company/switch/", {"company": other.company_id})
        clock.shift(DAY)
        page = phone.client.get("/")

    assert page.context["company"] == other.company
