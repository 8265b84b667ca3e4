"""A12: who guesses passwords is held up for a quarter of an hour, and holds up nobody else."""

from __future__ import annotations

import datetime as dt

import pytest
import time_machine
from django.test import Client

from tests.factories.people import PASSWORD

pytestmark = pytest.mark.django_db
START = dt.datetime(2026, 6, 8, 9, 0, tzinfo=dt.UTC)


def guess(address, password="wrong and wrong again", *, place="198.51.100.7"):
    return Client(REMOTE_ADDR=place).post("/sign-in/", {"username": address, "password": password})


def test_the_eleventh_guess_waits_a_quarter_of_an_hour(owner):
    address = owner.user.email
    with time_machine.travel(START, tick=False):
        statuses = [guess(address).status_code for _ in range(12)]
        right = guess(address, PASSWORD)
    with time_machine.travel(START + dt.timedelta(minutes=16), tick=False):
        later = guess(address, PASSWORD)

    assert statuses[:9] == [422] * 9
    assert set(statuses[10:]) == {429}
    assert right.status_code == 429
    assert right["Retry-After"] == "900"
    assert later.status_code == 302


def test_known_and_unknown_people_are_held_up_alike(owner):
    known = [guess(owner.user.email) for _ in range(12)]
    unknown = [guess("nobody@setters.example") for _ in range(12)]

    assert [answer.status_code for answer in known] == [answer.status_code for answer in unknown]
    assert known[-1].content == unknown[-1].content.replace(b"nobody@", b"odalys@") or (
        known[-1].status_code == unknown[-1].status_code == 429
    )


def test_a_guesser_locks_nobody_out_of_his_own_place(owner):
    for _ in range(12):
        guess(owner.user.email)

    at_home = guess(owner.user.email, PASSWORD, place="203.0.113.20")

    assert at_home.status_code == 302
