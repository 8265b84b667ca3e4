"""Passwords: chosen by a link that works once, changed, and refused where they are easy."""

from __future__ import annotations

from datetime import timedelta

import pytest
import time_machine
from django.test import Client
from django.utils import timezone

from projects import services
from projects.models import Role
from tests.factories.people import PASSWORD

pytestmark = pytest.mark.django_db


def sign_in(client, membership, **more):
    return client.post("/sign-in/", {"username": membership.user.email, "password": PASSWORD, **more})


def is_in(client):
    return client.get("/").status_code == 200


def test_a_new_password_ends_the_other_sessions(client, manager):
    elsewhere = Client()
    sign_in(elsewhere, manager)
    sign_in(client, manager)

    answer = client.post(
        "/password/", {"old_password": PASSWORD, "password": "level the sill before the head"}
    )

    assert answer.status_code == 302
    assert is_in(client)
    assert not is_in(elsewhere)


def test_whoever_finds_a_phone_unlocked_sets_no_password(client, manager):
    sign_in(client, manager)
    for old in ({}, {"old_password": "guessed it perhaps"}):
        answer = client.post("/password/", {**old, "password": "level the sill before the head"})
        assert answer.status_code == 422
    assert "This is not your password" in answer.content.decode()
    manager.user.refresh_from_db()
    assert manager.user.check_password(PASSWORD)
    assert is_in(client)


def test_the_eleventh_wrong_old_password_waits_as_a_sign_in_does(client, manager):
    sign_in(client, manager)
    guess = {"old_password": "guessed it perhaps", "password": "level the sill before the head"}

    statuses = [client.post("/password/", guess).status_code for _ in range(11)]

    assert statuses[:9] == [422] * 9
    assert statuses[-1] == 429


@pytest.mark.parametrize(
    ("password", "told"),
    [
        ("short", "Use at least 12 characters; a few words are fine."),
        ("qwerty123456", "It is on the list that guessers try first."),
        ("dana@setters.example", "It is too close to your name or address."),
    ],
)
def test_an_easy_password_is_refused_in_words(client, manager, password, told):
    sign_in(client, manager)

    answer = client.post("/password/", {"old_password": PASSWORD, "password": password})

    assert answer.status_code == 422
    assert told in answer.content.decode()
    manager.user.refresh_from_db()
    assert manager.user.check_password(PASSWORD)


def test_a_long_password_is_taken_whole(client, manager):
    long = "plumb " * 21  # 126 characters
    sign_in(client, manager)

    client.post("/password/", {"old_password": PASSWORD, "password": long})
    client.post("/sign-out/")

    assert client.post("/sign-in/", {"username": manager.user.email, "password": long}).status_code == 302


def test_a_password_link_works_once(client, owner):
    wren = services.invite_person(by=owner, email="wren@setters.example", name="Wren Idle", role=Role.CREW)
    who, token = services.hand_out_link(by=owner, membership=wren)
    link = f"/password/{who}/{token}/"

    assert client.get(link).status_code == 200
    assert client.post(link, {"password": PASSWORD}).status_code == 302
    assert client.get(link).status_code == 404
    assert sign_in(client, wren).status_code == 302


def test_a_password_link_dies_after_three_days(client, owner, hand):
    who, token = services.hand_out_link(by=owner, membership=hand)

    with time_machine.travel(timezone.now() + timedelta(days=3, minutes=1)):
        assert client.get(f"/password/{who}/{token}/").status_code == 404
