"""A hand of the crew on the own phone: the password once, and the sheet on the next morning without it."""

from __future__ import annotations

import pytest
from django.conf import settings
from django.contrib.sessions.backends.db import SessionStore

from config.demo.files import table
from crews.models import WorkRecord
from projects.models import Device
from tests.browser import chromium, site
from tests.browser.hand import Hand

NIGHT = 13 * 3600
ASKS = "No password yet, or lost it?"


@pytest.fixture
def signed_in(visit):
    """Return a hand that signs in as one of the crew, on an own phone or not, and ends on the day's page."""

    def of(own):
        phone = chromium.context(visit.browser, size=chromium.PHONE, has_touch=True, is_mobile=True)
        hand = Hand(phone.new_page())
        visit.go(hand.page, "/")
        hand.type("E-mail address", visit.demo.people["crew"].user.email)
        hand.type("Password", table("company.toml")["company"]["demo_password"])
        if own:
            hand.page.get_by_label("This is my own phone").check()
        hand.press("Sign in")
        return hand

    return of


def cookie(hand, name):
    return next(one for one in hand.page.context.cookies() if one["name"] == name)


def let_a_night_pass(hand):
    """Set the session's clock back by 13 hours without a request."""
    session = SessionStore(cookie(hand, settings.SESSION_COOKIE_NAME)["value"])
    session["seen_at"] -= NIGHT
    session["signed_in_at"] -= NIGHT
    session.save()


def test_in_the_morning_a_link_on_the_own_phone_opens_the_sheet(visit, signed_in):
    crew, day = visit.demo.things["crew"](), visit.demo.days["day"]
    hand = signed_in(own=True)
    evening = cookie(hand, settings.SESSION_COOKIE_NAME)["value"]
    token = cookie(hand, settings.DEVICE_COOKIE_NAME)
    let_a_night_pass(hand)

    visit.go(hand.page, f"/crews/{crew.pk}/{day}/")

    assert "Load before you leave" in hand.sees
    assert cookie(hand, settings.SESSION_COOKIE_NAME)["value"] != evening
    assert cookie(hand, settings.DEVICE_COOKIE_NAME)["value"] != token["value"]
    assert (token["httpOnly"], token["sameSite"]) == (True, "Lax")


def test_a_page_left_open_over_night_leads_on_in_the_morning(visit, signed_in):
    hand = signed_in(own=True)
    let_a_night_pass(hand)

    hand.press("Stock", exact=True)

    assert ASKS not in hand.sees
    assert hand.page.url.endswith("/stock/")


def test_without_the_tick_the_morning_asks(visit, signed_in):
    """Negative control."""
    hand = signed_in(own=False)
    let_a_night_pass(hand)

    visit.go(hand.page, "/")

    assert ASKS in hand.sees
    assert not Device.objects.exists()


def test_a_phone_that_is_signed_out_on_its_own_page_asks(visit, signed_in):
    hand = signed_in(own=True)
    visit.go(hand.page, "/password/")

    hand.press("Sign out Computer of", exact=False)

    assert ASKS in hand.sees


def test_from_the_lock_screen_a_step_is_done_with_two_taps_and_undone_with_a_third(visit, signed_in):
    crew, day = visit.demo.things["crew"](), visit.demo.days["day"]
    site.make_sheets(visit.demo.company, crew)
    hand = signed_in(own=True)
    let_a_night_pass(hand)
    hand.page.clock.install()
    before = hand.pressed

    visit.go(hand.page, f"/crews/{crew.pk}/{day}/")  # the first tap: a link in a message
    hand.press("Done")

    assert 1 + hand.pressed - before <= 2
    assert "1 step is done." in hand.sees
    assert WorkRecord.objects.count() == 1
    hand.page.clock.fast_forward(11_000)
    hand.press("Undo", exact=True)
    assert "not done after all" in hand.sees
    assert WorkRecord.objects.filter(takes_back__isnull=False).count() == 1
