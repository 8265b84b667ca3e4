"""Sessions: begun with a new id, ended by their clocks, by the owner, by signing out."""

from __future__ import annotations

import time
from datetime import timedelta

import pytest
import time_machine
from django.conf import settings
from django.test import Client
from django.utils import timezone

from projects import services
from projects.models import Role
from projects.sessions import LIMITS
from tests.factories.people import PASSWORD, MembershipFactory

pytestmark = pytest.mark.django_db
HOUR = 3600
DAY = 24 * HOUR


def sign_in(client, membership, **more):
    return client.post("/sign-in/", {"username": membership.user.email, "password": PASSWORD, **more})


def is_in(client):
    return client.get("/").status_code == 200


def test_address_and_password_open_the_home_page(client, manager):
    answer = sign_in(client, manager)

    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert is_in(client)


def test_the_address_may_be_typed_in_any_case(client, manager):
    answer = client.post("/sign-in/", {"username": " DANA@Setters.Example ", "password": PASSWORD})

    assert answer.status_code == 302


def test_known_and_unknown_people_read_the_same_words(client, manager):
    wrong = client.post("/sign-in/", {"username": manager.user.email, "password": "not the password"})
    unknown = client.post("/sign-in/", {"username": "nobody@setters.example", "password": "not the password"})

    assert wrong.status_code == unknown.status_code == 422
    assert wrong.context["form"].non_field_errors() == unknown.context["form"].non_field_errors()
    assert "Check both, or ask the owner for a new link." in wrong.content.decode()


def test_the_session_gets_a_new_id_at_sign_in(manager):
    """R22, A13: an id that somebody planted before is worth nothing after."""
    for _ in range(20):
        client = Client()
        planted = client.session
        planted["planted"] = True
        planted.save()
        client.cookies[settings.SESSION_COOKIE_NAME] = planted.session_key

        sign_in(client, manager)

        assert client.cookies[settings.SESSION_COOKIE_NAME].value != planted.session_key
        thief = Client()
        thief.cookies[settings.SESSION_COOKIE_NAME] = planted.session_key
        assert not is_in(thief)


def test_signing_out_ends_the_session_and_clears_the_browser(client, manager):
    sign_in(client, manager)
    key = client.cookies[settings.SESSION_COOKIE_NAME].value

    answer = client.post("/sign-out/")

    assert answer["Clear-Site-Data"] == '"cache", "storage"'
    thief = Client()
    thief.cookies[settings.SESSION_COOKIE_NAME] = key
    assert not is_in(thief)


def test_pages_are_not_kept_by_a_shared_browser(client, manager):
    sign_in(client, manager)

    assert client.get("/projects/")["Cache-Control"] == "private, no-store"


def test_a_foreign_next_address_leads_home(client, manager):
    assert sign_in(client, manager, next="//evil.example/")["Location"] == "/"
    client.post("/sign-out/")
    assert sign_in(client, manager, next="https://evil.example/")["Location"] == "/"
    client.post("/sign-out/")
    assert sign_in(client, manager, next="/projects/")["Location"] == "/projects/"


def test_a_link_opens_its_page_after_signing_in(client, manager):
    answer = client.get("/projects/?q=alder")

    assert answer["Location"] == "/sign-in/?next=%2Fprojects%2F%3Fq%3Dalder"


@pytest.mark.parametrize(
    ("role", "idle", "absolute"),
    [
        (Role.OWNER, 2 * HOUR, 12 * HOUR),
        (Role.MANAGER, 2 * HOUR, 12 * HOUR),
        (Role.FOREMAN, 12 * HOUR, 30 * DAY),
        (Role.CREW, 12 * HOUR, 30 * DAY),
    ],
)
def test_the_limits_are_the_roles_own(role, idle, absolute):
    assert (LIMITS[role].idle, LIMITS[role].absolute) == (idle, absolute)


@pytest.mark.parametrize("role", [Role.OWNER, Role.CREW])
def test_a_session_ends_when_nobody_was_there(client, company, role):
    membership = MembershipFactory(company=company, role=role)
    begun = timezone.now()
    with time_machine.travel(begun, tick=False):
        sign_in(client, membership)

    with time_machine.travel(begun + timedelta(seconds=LIMITS[role].idle), tick=False):
        assert is_in(client)
    with time_machine.travel(begun + timedelta(seconds=2 * LIMITS[role].idle + 1), tick=False):
        assert not is_in(client)


@pytest.mark.parametrize("role", [Role.OWNER, Role.CREW])
def test_a_busy_session_ends_all_the_same(client, company, role):
    membership = MembershipFactory(company=company, role=role)
    begun = timezone.now()
    limits = LIMITS[role]
    with time_machine.travel(begun, tick=False) as clock:
        sign_in(client, membership)
        alive = []
        for seconds in range(limits.idle // 2, limits.absolute + limits.idle, limits.idle // 2):
            clock.move_to(begun + timedelta(seconds=seconds))
            alive.append((seconds, is_in(client)))

    assert all(
        is_alive == (seconds < limits.absolute) for seconds, is_alive in alive if seconds != limits.absolute
    )


def test_an_ended_person_is_out_at_the_next_request(client, owner, manager):
    sign_in(client, manager)
    services.end_membership(by=owner, membership=manager)

    assert client.get("/projects/").status_code == 302


def test_a_disabled_person_is_out_at_the_next_request(client, manager):
    sign_in(client, manager)
    manager.user.is_active = False
    manager.user.save()

    assert client.get("/projects/").status_code == 302


def test_htmx_is_sent_to_sign_in_as_a_whole_page(client, db):
    answer = client.get("/projects/", headers={"HX-Request": "true"})

    assert answer.status_code == 401
    assert answer["HX-Redirect"].startswith("/sign-in/")


def test_the_owner_ends_every_session_of_a_lost_phone(client, owner, hand):
    phone = Client()
    sign_in(phone, hand)
    sign_in(client, owner)

    client.post(f"/people/{hand.pk}/sign-out/")

    assert not is_in(phone)
    assert is_in(client)
    sign_in(phone, hand)
    assert is_in(phone)


def test_the_session_is_written_down_at_most_every_five_minutes(client, manager):
    with time_machine.travel(time.time(), tick=False) as clock:
        sign_in(client, manager)
        seen = client.session["seen_at"]
        clock.shift(299)
        client.get("/")
        assert client.session["seen_at"] == seen
        clock.shift(2)
        client.get("/")
        assert client.session["seen_at"] == seen + 301
