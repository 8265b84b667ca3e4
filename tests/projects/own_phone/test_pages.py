"""A38: the owner reads on which phones somebody stays signed in, and signs out one of them, or all."""

from __future__ import annotations

import pytest
import time_machine
from django.db import DataError, IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from projects import services
from projects.models import Device
from projects.selectors import PHONES_SHOWN
from tests.config.loaded import run
from tests.factories.people import DeviceFactory, UserFactory
from tests.projects.own_phone.phone import DAY, HOUR, MORNING, Phone, own_phone_of

pytestmark = pytest.mark.django_db
OFFER = 'aria-label="Sign out Android phone of '


@pytest.fixture
def boss(client_of, owner):
    return client_of(owner)


def page_of(client, person):
    return client.get(reverse("person", args=[person.pk])).content.decode()


def test_the_owner_reads_which_phones_there_are_and_ends_one(owner, client_of, hand):
    with time_machine.travel(MORNING, tick=False) as clock:
        lost, device = own_phone_of(hand)
        kept = Phone()
        kept.sign_in(hand)
        clock.shift(5 * HOUR)
        lost.is_in()
        boss = client_of(owner)
        before = page_of(boss, hand)
        # the company's clock is New York's: 7:00 and 12:00 UTC are 3:00 and 8:00 there
        assert "Android phone" in before
        assert "1 Jun, 03:00" in before
        assert "1 Jun, 08:00" in before

        answer = boss.post(reverse("device-end", args=[device.pk]), follow=True)

        assert answer.redirect_chain == [(reverse("person", args=[hand.pk]), 302)]
        after = answer.content.decode()
        assert "Android phone is signed out. It asks for the password next time." in after
        assert 'ended <time datetime="2026-06-01T08:00:00-04:00">1 Jun, 08:00</time>' in after
        assert after.count(OFFER) == 1
        assert not lost.is_in()
        assert kept.is_in()


def test_the_owner_ends_all_of_them_at_once(boss, hand):
    phones = [Phone(), Phone()]
    for phone in phones:
        phone.sign_in(hand)

    boss.post(reverse("person-sign-out", args=[hand.pk]))

    assert OFFER not in page_of(boss, hand)
    assert [phone.is_in() for phone in phones] == [False, False]


def test_a_phone_whose_thirty_days_are_over_is_shown_as_ended(owner, client_of, hand):
    with time_machine.travel(MORNING, tick=False) as clock:
        own_phone_of(hand)
        clock.shift(31 * DAY)
        page = page_of(client_of(owner), hand)

    assert "1 Jul, 03:00" in page
    assert OFFER not in page


def test_without_phones_the_page_says_how_one_comes_about(boss, hand):
    assert "can tick at the sign-in that a phone is their own" in page_of(boss, hand)


def test_phones_that_open_stand_first_then_the_latest_and_no_more_than_twenty(boss, hand):
    for days in range(PHONES_SHOWN + 5):
        ended = {"ended_at": MORNING + days * DAY}
        DeviceFactory(user=hand.user, name=f"Phone-{days:02}", made_at=MORNING, **ended)
    DeviceFactory(user=hand.user, name="Phone in use")

    shown = boss.get(reverse("person", args=[hand.pk])).context["phones"]

    assert [phone.name for phone in shown] == ["Phone in use", *[f"Phone-{n:02}" for n in range(24, 5, -1)]]


def test_a_page_asks_as_often_for_twenty_phones_as_for_one(boss, hand):
    DeviceFactory(user=hand.user)
    page_of(boss, hand)
    with CaptureQueriesContext(connection) as one:
        page_of(boss, hand)
    for _ in range(19):
        DeviceFactory(user=hand.user)
    with CaptureQueriesContext(connection) as many:
        page_of(boss, hand)

    assert len(one) == len(many)


def test_a_person_sees_and_ends_own_phones(hand, foreman):
    phone, device = own_phone_of(hand)
    own_phone_of(foreman)

    page = phone.client.get("/password/").content.decode()
    answer = phone.client.post(reverse("device-end", args=[device.pk]))

    assert page.count(OFFER) == 1
    assert answer["Location"] == "/password/"
    assert not phone.is_in()


def test_a_password_link_shows_no_phones(owner, hand):
    own_phone_of(hand)
    who, token = services.hand_out_link(by=owner, membership=hand)

    assert "Own phones" not in Phone().client.get(f"/password/{who}/{token}/").content.decode()


def test_the_tick_is_off_and_says_what_it_means():
    answer = Phone().client.get("/sign-in/")

    assert not answer.context["form"]["own_phone"].value()
    page = answer.content.decode()
    assert "This is my own phone" in page
    assert "once in 30 days" in page
    assert "Leave it empty on a phone or computer that others use too." in page


def test_a_phone_that_stays_signed_in_at_the_desk_would_be_found(hand, manager):
    DeviceFactory(user=hand.user)
    DeviceFactory(user=manager.user, ended_at=MORNING)
    lawful, _ = run("verify_invariants")
    DeviceFactory(user=manager.user)
    damaged, code = run("verify_invariants")

    assert lawful["problems"] == []
    assert code == 1
    (problem,) = damaged["problems"]
    assert problem["problem"].startswith("phones: Dana Whitlow stays signed in on a phone")


@pytest.mark.parametrize(
    "values",
    [
        {"name": ""},
        {"name": "X" * 41},
        {"token_hash": ""},
        {"token_hash": "f" * 63},
        {"token_hash": "f" * 65},
    ],
)
def test_a_phone_has_lawful_values(values):
    with pytest.raises((IntegrityError, DataError)), transaction.atomic():
        DeviceFactory(**values)

    assert not Device.objects.exists()


def test_no_two_phones_have_one_token():
    first = DeviceFactory()

    with pytest.raises(IntegrityError), transaction.atomic():
        DeviceFactory(token_hash=first.token_hash)


@pytest.mark.parametrize("change", [{"ended_at": None}, {"session_hash": "f" * 64}, {"seen_at": MORNING}])
def test_the_database_keeps_an_ended_phone_ended(change):
    device = DeviceFactory(ended_at=MORNING)

    with pytest.raises(IntegrityError), transaction.atomic():
        Device.objects.filter(pk=device.pk).update(**change)

    device.refresh_from_db()
    assert device.ended_at == MORNING


def test_the_database_gives_a_phone_to_nobody_else():
    device, other = DeviceFactory(), UserFactory()

    with pytest.raises(IntegrityError), transaction.atomic():
        Device.objects.filter(pk=device.pk).update(user=other)

    device.refresh_from_db()
    assert device.user != other
