"""A truck of windows on a phone: ticked, inspected, one found broken, one entry taken back."""

from __future__ import annotations

import pytest

from config.demo.files import FOLDER
from openings.models import WindowPhoto
from projects.models import House
from tests.browser import chromium
from tests.browser.hand import Hand
from tests.factories.openings import windows_of

BROKEN = FOLDER / "photos" / "cracked-corner.jpg"


@pytest.fixture
def foreman(visit):
    return Hand(visit.open("foreman", size=chromium.PHONE, has_touch=True, is_mobile=True))


@pytest.fixture
def house(visit):
    return House.objects.get(company=visit.demo.company, code="TR-3")


def states(house):
    return {each.opening.mark: each.standing.state.value for each in windows_of(house)}


def tick(foreman, mark):
    foreman.page.get_by_role("checkbox", name=mark).check()


def test_a_truck_is_counted_inspected_and_one_window_claimed(visit, foreman, house):
    visit.go(foreman.page, f"/houses/{house.pk}/windows/")
    for mark in ("T1", "T2", "T3"):
        tick(foreman, mark)
    foreman.press("Count the ticked windows")
    assert "3 windows are counted." in foreman.sees

    for mark in ("T1", "T2"):
        tick(foreman, mark)
    foreman.press("Accept the ticked windows")
    assert "2 windows are accepted." in foreman.sees

    foreman.press("Open window T3")
    foreman.press("Report damage")
    foreman.page.get_by_label("What is damaged").fill("Crack, lower left")
    foreman.page.get_by_label("Photos").set_input_files(BROKEN)
    foreman.press("Report the damage")

    assert "Window T3 is damaged. Claim it by" in foreman.sees
    assert states(house) | {"T1": "accepted", "T2": "accepted", "T3": "damaged"} == states(house)
    foreman.press("Open window T3")
    shown = foreman.page.get_by_role("img", name="Photo 1 of window T3")
    shown.scroll_into_view_if_needed()
    assert shown.evaluate("image => image.decode().then(() => image.naturalWidth)") == 1200
    assert WindowPhoto.objects.filter(record__opening__mark="T3").count() == 1


def test_a_wrong_count_is_undone_with_one_tap(visit, foreman, house):
    visit.go(foreman.page, f"/houses/{house.pk}/windows/")
    tick(foreman, "T1")
    foreman.press("Count the ticked windows")

    foreman.press("Undo")

    assert "It is taken back" in foreman.sees
    assert states(house)["T1"] == "not here yet"
