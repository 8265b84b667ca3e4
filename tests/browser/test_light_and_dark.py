"""Light and dark: as the device, or as somebody chose; paper is always light."""

from __future__ import annotations

import pytest

from tests.browser.hand import Hand

PAPER = "() => getComputedStyle(document.documentElement).backgroundColor"
WHITE, NIGHT = "rgb(255, 255, 255)", "rgb(21, 23, 26)"  # --paper in print, and by night: #15171a


def test_what_was_chosen_is_there_with_the_first_bytes(visit):
    hand = Hand(visit.open("owner", "/costs/", scheme="light"))

    hand.press("Dark", exact=True)
    answer = hand.page.goto(visit.address + "/costs/")

    # no script sets it later, so nothing flashes
    assert '<html lang="en" data-appearance="dark">' in answer.text()
    assert hand.page.evaluate(PAPER) == NIGHT


@pytest.mark.parametrize("role", ["crew", "foreman", "manager"])
def test_paper_is_light_whatever_the_screen_is(visit, role):
    page = visit.open(role, scheme="dark")
    by_night = page.evaluate(PAPER)

    page.emulate_media(media="print", color_scheme="dark")

    assert by_night == NIGHT
    assert page.evaluate(PAPER) == WHITE
