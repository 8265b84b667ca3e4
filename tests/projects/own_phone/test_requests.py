"""A request of the morning is answered as if the session had never ended: pages, parts, forms."""

from __future__ import annotations

import pytest
import time_machine
from django.conf import settings
from django.urls import reverse

from projects.models import AuditEntry, Elevation
from projects.own_phone import name_of
from tests.factories.houses import ElevationFactory
from tests.projects.own_phone.phone import ANDROID, DAY, HOUR, MORNING, Phone, own_phone_of, told

pytestmark = pytest.mark.django_db


@pytest.fixture
def clock():
    with time_machine.travel(MORNING, tick=False) as moved:
        yield moved


@pytest.fixture
def face(company):
    return ElevationFactory(house__project__company=company, name="Front")


def evening(foreman, face, *, own):
    """Return a phone with the elevation's form open, and what is typed into it."""
    phone = Phone(enforce_csrf_checks=True)
    token = str(phone.client.get("/sign-in/").context["csrf_token"])
    phone.sign_in(foreman, own=own, csrfmiddlewaretoken=token)
    page = phone.client.get(reverse("elevation", args=[face.pk]))
    form = {"name": "Front, by the drive", "access": face.access, "version": face.version}
    return phone, {**form, "csrfmiddlewaretoken": str(page.context["csrf_token"])}


def test_a_form_left_open_over_night_is_saved_in_the_morning(clock, foreman, face):
    phone, form = evening(foreman, face, own=True)
    csrf = phone.client.cookies[settings.CSRF_COOKIE_NAME].value
    clock.shift(DAY)

    answer = phone.client.post(reverse("elevation", args=[face.pk]), form)

    assert (answer.status_code, answer["Location"]) == (302, f"/houses/{face.house_id}/")
    assert Elevation.objects.get().name == "Front, by the drive"
    assert AuditEntry.objects.get(action="edit elevation").user == foreman.user
    # the other pages that are open are sent with the same token
    assert phone.client.cookies[settings.CSRF_COOKIE_NAME].value == csrf
    form.update(name="Front", version=Elevation.objects.get().version)
    assert phone.client.post(reverse("elevation", args=[face.pk]), form).status_code == 302
    assert "Nothing is kept." in phone.client.get("/kept/").content.decode()


def test_without_the_tick_the_form_is_kept_until_the_password_is_typed(clock, foreman, face):
    """Negative control."""
    phone, form = evening(foreman, face, own=False)
    clock.shift(DAY)

    answer = phone.client.post(reverse("elevation", args=[face.pk]), form)

    assert answer["Location"] == "/sign-in/?next=%2Fkept%2F"
    assert Elevation.objects.get().name == "Front"


def test_a_form_without_its_token_is_refused_in_the_morning_too(clock, foreman, face):
    phone, form = evening(foreman, face, own=True)
    del form["csrfmiddlewaretoken"]
    clock.shift(DAY)

    answer = phone.client.post(reverse("elevation", args=[face.pk]), form)

    assert answer.status_code == 403
    assert Elevation.objects.get().name == "Front"
    assert "Front, by the drive" in phone.client.get("/kept/").content.decode()


def test_what_was_kept_in_the_evening_is_there_in_the_morning(clock, foreman, face):
    phone, form = evening(foreman, face, own=True)
    del form["csrfmiddlewaretoken"]
    phone.client.post(reverse("elevation", args=[face.pk]), form)
    clock.shift(DAY)

    assert "Front, by the drive" in phone.client.get("/kept/").content.decode()


def test_a_part_of_a_page_comes_as_a_part(clock, foreman):
    phone, _ = own_phone_of(foreman)
    clock.shift(DAY)

    answer = phone.client.get("/projects/", headers={"HX-Request": "true"})

    assert answer.status_code == 200
    assert "HX-Redirect" not in answer.headers
    assert told(answer).value == phone.token


@pytest.mark.parametrize(
    ("method", "address", "status"),
    [
        ("get", "/nothing/here/", 404),
        ("get", "/company/", 403),
        ("post", "/", 405),
        ("head", "/projects/", 200),
        ("get", "/sign-in/?next=/projects/", 302),
        ("get", "/healthz", 200),
    ],
)
def test_the_new_token_comes_with_whatever_the_answer_is(clock, foreman, method, address, status):
    phone, _ = own_phone_of(foreman)
    clock.shift(DAY)

    answer = getattr(phone.client, method)(address)

    assert answer.status_code == status
    assert told(answer).value == phone.token
    clock.shift(DAY)
    assert phone.is_in()


def test_a_link_to_the_sign_in_leads_on_without_asking(clock, hand):
    phone, _ = own_phone_of(hand)
    clock.shift(DAY)

    assert phone.client.get("/sign-in/?next=/stock/")["Location"] == "/stock/"


def test_the_cookie_is_set_at_the_sign_in_and_at_an_opening_and_nowhere_else(clock, hand):
    phone, plain = Phone(), Phone()
    wrong = phone.client.post("/sign-in/", {"username": hand.user.email, "password": "no", "own_phone": "on"})
    set_by = [told(wrong), told(plain.sign_in(hand, own=False)), told(phone.sign_in(hand))]
    set_by += [told(phone.client.get(address)) for address in ("/", "/stock/", "/password/", "/company/")]

    assert [cookie is not None for cookie in set_by] == [False, False, True, False, False, False, False]


def test_the_cookie_is_kept_from_scripts_and_other_sites(clock, hand):
    cookie = told(Phone().sign_in(hand))

    assert cookie["httponly"]
    assert (cookie["samesite"], cookie["path"], cookie["domain"]) == ("Lax", "/", "")
    assert not cookie["secure"]


def test_in_production_the_cookie_goes_over_tls_and_to_this_host_alone(clock, hand, settings):
    settings.SESSION_COOKIE_SECURE = True
    settings.DEVICE_COOKIE_NAME = "__Host-own-phone"
    phone = Phone()

    made, gone = told(phone.sign_in(hand)), told(phone.client.post("/sign-out/"))

    for cookie in (made, gone):
        assert cookie["secure"]
        assert (cookie["path"], cookie["domain"]) == ("/", "")
    assert gone["max-age"] == 0


def test_an_opening_leaves_the_guard_against_guessing_alone(clock, hand):
    phone, _ = own_phone_of(hand)
    signed_in = type(hand.user).objects.get(pk=hand.user.pk).last_login
    clock.shift(13 * HOUR)
    guesser = Phone()
    wrong = {"username": hand.user.email, "password": "wrong and wrong again"}
    for _ in range(9):
        assert guesser.client.post("/sign-in/", wrong).status_code == 422

    assert phone.is_in()

    assert [guesser.client.post("/sign-in/", wrong).status_code for _ in range(2)][-1] == 429
    hand.user.refresh_from_db()
    assert hand.user.last_login == signed_in == MORNING


@pytest.mark.parametrize(
    ("user_agent", "name"),
    [
        (ANDROID, "Android phone"),
        (
            "Mozilla/5.0 (Linux; Android 13; K) AppleWebKit/537.36 Chrome/126.0 Safari/537.36",
            "Android tablet",
        ),
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 17_5 like Mac OS X) Version/17.5 Mobile/15E148", "iPhone"),
        ("Mozilla/5.0 (iPad; CPU OS 16_6 like Mac OS X) Version/16.6 Mobile/15E148", "iPad"),
        ("Mozilla/5.0 (Windows NT 10.0; Win64; x64) Chrome/126.0", "Windows computer"),
        ("Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) Version/17.5", "Mac"),
        ("Mozilla/5.0 (X11; Linux x86_64) Chrome/126.0", "Computer"),
        ("", "Computer"),
        ("<script>" * 2000, "Computer"),
    ],
)
def test_a_phone_is_called_what_a_person_calls_it(user_agent, name):
    assert name_of(user_agent) == name
