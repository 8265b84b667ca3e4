"""The token that a phone holds: changed at each opening, kept as a hash, worth nothing in other hands."""

from __future__ import annotations

import pytest
import time_machine
from django.conf import settings
from django.db import connection
from django.test.utils import CaptureQueriesContext

from projects import services
from projects.models import AuditEntry, Device
from projects.services.devices import digest
from tests.factories.people import PASSWORD
from tests.materials.orders.races import all_at_once
from tests.projects.own_phone.phone import DAY, HOUR, MINUTE, MORNING, Phone, own_phone_of, told

pytestmark = pytest.mark.django_db
FORGED = "A" * 43


@pytest.fixture
def clock():
    with time_machine.travel(MORNING, tick=False) as moved:
        yield moved


def cookie(value):
    phone = Phone()
    phone.client.cookies[settings.DEVICE_COOKIE_NAME] = value
    return phone


def test_the_database_holds_no_token(clock, hand):
    phone, device = own_phone_of(hand)

    assert device.token_hash == digest(phone.token)
    assert phone.token not in str(Device.objects.values())
    assert not cookie(device.token_hash).is_in()


def test_each_morning_has_its_own_token_and_the_old_one_is_dead(clock, hand):
    phone, _ = own_phone_of(hand)
    yesterday = phone.copy()
    clock.shift(DAY)
    phone.is_in()
    phone.is_in()  # the second request shows that the first one's answer came

    clock.shift(MINUTE + MINUTE / 60)

    assert phone.token != yesterday.token
    assert not yesterday.is_in()


def test_a_copied_token_ends_the_phone_for_both_as_soon_as_both_have_used_it(clock, hand):
    phone, device = own_phone_of(hand)
    thief = phone.copy()
    clock.shift(DAY)
    assert thief.is_in()
    assert thief.is_in()
    clock.shift(HOUR)

    assert not phone.is_in()

    assert not thief.is_in()
    device.refresh_from_db()
    assert device.ended_at == MORNING + DAY + HOUR
    assert AuditEntry.objects.filter(action="end phone whose token was copied").count() == 1
    assert phone.sign_in(hand).status_code == 302


def test_requests_sent_together_all_open_and_the_phone_stays_good(clock, hand):
    phone, _ = own_phone_of(hand)
    second, third = phone.copy(session=True), phone.copy(session=True)
    clock.shift(DAY)

    answers = [one.client.get("/") for one in (phone, second)]
    phone.is_in()
    clock.shift(MINUTE)
    answers.append(third.client.get("/"))  # the slowest of them, a minute later

    assert [answer.status_code for answer in answers] == [200, 200, 200]
    assert [told(answer) is not None for answer in answers] == [True, False, False]
    clock.shift(DAY)
    assert phone.is_in()


def test_an_answer_that_got_lost_does_not_lock_the_phone_out(clock, hand):
    phone, _ = own_phone_of(hand)
    lost = phone.copy(session=True)
    clock.shift(DAY)
    assert lost.is_in()  # its answer never reaches the phone
    clock.shift(HOUR)

    assert phone.is_in()

    clock.shift(DAY)
    assert phone.is_in()
    assert not lost.is_in()


@pytest.mark.parametrize(
    "value", [FORGED, "", "x", FORGED + "A", "é" * 43, "0" * 64, "' OR 1=1 --" + "x" * 32]
)
def test_a_forged_cookie_opens_nothing_and_is_left_alone(clock, hand, value):
    _, device = own_phone_of(hand)
    phone = Phone()

    answer = phone.client.get("/", headers={"Cookie": f"{settings.DEVICE_COOKIE_NAME}={value}"})

    assert (answer.status_code, answer["Location"]) == (302, "/sign-in/?next=%2F")
    assert told(answer) is None
    device.refresh_from_db()
    assert device.ended_at is None


def test_a_forged_cookie_costs_one_look(clock, hand):
    own_phone_of(hand)
    costs = {}
    for value in ("", "short", FORGED):
        with CaptureQueriesContext(
            connection,
        ) as asked:
            cookie(value).is_in()
        costs[value] = len(asked)

    assert costs == {"": costs[""], "short": costs[""], FORGED: costs[""] + 1}


def test_the_look_goes_by_an_index(hand):
    rows = Device.objects.filter(token_hash=FORGED) | Device.objects.filter(previous_hash=FORGED)
    if connection.vendor == "sqlite":
        assert "SCAN" not in rows.explain()
    else:
        with connection.cursor() as cursor:
            cursor.execute("SET LOCAL enable_seqscan = off")
        assert "Seq Scan" not in rows.explain()


def test_a_live_session_costs_one_look_more_on_an_own_phone(clock, hand):
    phone, plain = Phone(), Phone()
    phone.sign_in(hand)
    plain.sign_in(hand, own=False)
    for one in (phone, plain):
        one.is_in()

    with CaptureQueriesContext(connection) as without:
        plain.is_in()
    with CaptureQueriesContext(connection) as with_it:
        phone.is_in()

    assert len(with_it) == len(without) + 1


def test_another_persons_cookie_does_not_make_somebody_that_person(clock, hand, foreman):
    ferris, _ = own_phone_of(foreman)
    planted = Phone()
    planted.sign_in(hand, own=False)
    planted.client.cookies[settings.DEVICE_COOKIE_NAME] = ferris.token
    assert planted.client.get("/").context["membership"] == hand
    clock.shift(DAY)

    answer = planted.client.post(
        "/password/", {"old_password": PASSWORD, "password": "level the sill before the head"}
    )

    assert answer["Location"].startswith("/sign-in/")
    assert told(answer).value == ""
    assert not planted.is_in()
    foreman.user.refresh_from_db()
    assert foreman.user.check_password(PASSWORD)
    assert ferris.is_in()


def test_seen_is_written_down_once_an_hour(clock, hand):
    phone, device = own_phone_of(hand)
    seen = []
    for shift in (59 * MINUTE, 2 * MINUTE, 30 * MINUTE):
        clock.shift(shift)
        phone.is_in()
        device.refresh_from_db()
        seen.append(device.seen_at - MORNING)

    # 0:59, 1:01, 1:31 after the sign-in
    assert seen == [0 * MINUTE, 61 * MINUTE, 61 * MINUTE]


def test_a_morning_is_one_line_in_the_record(clock, hand):
    phone, device = own_phone_of(hand)
    clock.shift(DAY)
    for _ in range(5):
        phone.is_in()

    lines = AuditEntry.objects.filter(subject_id=device.pk, subject_kind="projects.device").order_by("pk")
    assert [(line.action, line.user, line.subject_name) for line in lines] == [
        ("stay signed in", hand.user, "Android phone"),
        ("open phone again", hand.user, "Android phone"),
    ]


@pytest.mark.django_db(transaction=True)
def test_of_eight_at_once_all_open_and_one_gets_the_new_token(hand):
    phone, device = own_phone_of(hand)
    token = phone.token

    given = all_at_once(*[lambda: services.open_again(by=hand, device=device, token=token)] * 8)

    assert [opened.opens for opened in given] == [True] * 8
    (new,) = {opened.token for opened in given if opened.token}
    device.refresh_from_db()
    assert (device.token_hash, device.previous_hash) == (digest(new), digest(token))
    assert AuditEntry.objects.filter(action="open phone again").count() == 1
