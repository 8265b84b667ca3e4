"""Every page is for everybody: axe finds nothing, nothing scrolls sideways, nothing is too small to hit."""

from __future__ import annotations

from itertools import product

import pytest

from tests.browser import chromium, inspection, pages

NARROW, TABLET, DESK = (320, 640), (768, 1024), chromium.DESK
# narrow by night and wide by day differ in all; `--every-view` has each width by day and by night
FURTHEST_APART = ((DESK, "light"), (NARROW, "dark"))
EVERY_VIEW = tuple(product((DESK, TABLET, NARROW), ("light", "dark")))
ROOT_PX = 18  # the size of text on the pages of people who work standing up
GLOVES, APART, MOUSE = 48, 8, 32  # what is pressed on site, how far apart, and at the desk, in CSS pixels
CONTRAST = 7  # of words to what is behind them, everywhere, so that they are read in the sun
PLANTED = """<!doctype html><html lang="en"><title>Planted</title><main><h1>Planted</h1>
  <img src="data:,"><p style="color: #999">Too pale, and small</p>
  <button style="width: 20px; height: 20px; outline: none"></button><button id="roomy"
    style="width: 60px; height: 60px">Roomy</button>
  <p style="width: 40px; white-space: nowrap; overflow: hidden">Words that end outside</p>
  <p style="overflow: hidden">all of it</p>
  <div style="width: 500px">Wide</div></main></html>"""
FIRMS = ("demo", "empty")
ROLES = ("manager", "owner", "foreman", "crew", "")
ON_SITE = ("foreman", "crew")


@pytest.fixture
def walk(visit):
    """Return a walk through places in one browser: each is loaded wide, by day, and given with its page."""

    def through(places, person):
        page = chromium.context(visit.browser, person=person).new_page()
        watch = inspection.Watch().over(page)
        for place in places:
            page.set_viewport_size({"width": DESK[0], "height": DESK[1]})
            page.emulate_media(color_scheme="light")
            visit.go(page, place.address)
            yield place.name, page, watch

    return through


def shown_to(role, firm):
    """Return the pages of the firm's album that `role` is shown."""
    return [place for place in pages.album(firm) if place.role == role]


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("firm", FIRMS)
def test_no_page_has_a_barrier_by_day_or_night(request, visit, walk, firm, role):
    every, there = request.config.getoption("--every-view", default=False), getattr(visit, firm)
    faults = []

    for name, page, watch in walk(shown_to(role, there), there.people.get(role)):
        faults += inspection.told(name, watch.taken())
        if role and not page.get_by_role("navigation", name="Places").get_by_text("Today").count():
            faults.append(f"{name}: no way to the other places")
        faults += inspection.told(f"{name}, focus", inspection.measured(page, "unseenFocus"))
        faults += inspection.told(f"{name}, mouse", inspection.measured(page, "smallTargets", MOUSE))
        for size, scheme in EVERY_VIEW if every else FURTHEST_APART:
            colours = every or (firm, scheme) == ("demo", "light")
            faults += inspection.told(f"{name} at {size[0]}, {scheme}", seen(page, size, scheme, colours))
        faults += inspection.told(name, lost_to_larger_text(page))

    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("role", ["manager", "owner", "foreman"])
def test_no_refused_form_has_a_barrier(visit, walk, role):
    faults = []

    refusing = [place for place in pages.refusing(visit.demo) if place.role == role]
    for name, page, _ in walk(refusing, visit.demo.people[role]):
        send_empty(page)
        if not page.get_by_role("alert").count():
            faults.append(f"{name}: not refused")
        faults += inspection.told(f"{name}, refused", seen(page, NARROW, "dark", False))

    assert not faults, "\n".join(faults)


def seen(page, size, scheme, colours):
    """Return what is wrong with the page as it is in one view."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.emulate_media(color_scheme=scheme)
    return [
        *inspection.barriers(page, colours=colours),
        *inspection.measured(page, "paleText", CONTRAST),
        *inspection.measured(page, "tooWide", size[0]),
    ]


def lost_to_larger_text(page):
    """Return what is lost to wide spacing on a phone, and to that and text twice its size at the desk."""
    faults = []
    for size, style in ((NARROW, inspection.WIDE_SPACING), (DESK, inspection.TWICE_THE_TEXT)):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        inspection.with_style(page, style)
        lost = [*inspection.measured(page, "clippedText"), *inspection.measured(page, "tooWide", size[0])]
        faults += inspection.told(f"larger text at {size[0]}", lost)
    return faults


def send_empty(page):
    """Send the page's form with nothing in it but its token."""
    page.evaluate(
        "() => document.querySelectorAll('main form :is(input, select, textarea)')"
        ".forEach(field => { field.disabled = field.name !== 'csrfmiddlewaretoken'; })"
    )
    page.locator("main form button[data-kind=main]").first.click()
    chromium.settle(page)


@pytest.mark.parametrize("role", ON_SITE)
def test_gloves_hit_every_control_on_site_pages(visit, walk, role):
    faults = []

    for name, page, _ in walk(pages.places(visit.demo, role), visit.demo.people[role]):
        page.set_viewport_size({"width": chromium.PHONE[0], "height": chromium.PHONE[1]})
        faults += inspection.told(name, inspection.measured(page, "smallTargets", GLOVES))
        faults += inspection.told(name, inspection.measured(page, "closeTargets", APART))
        faults += inspection.told(f"{name}, small text", inspection.measured(page, "smallText", ROOT_PX))

    assert not faults, "\n".join(faults)


def test_a_fault_of_each_kind_would_be_seen(browser):
    """The negative control: a page on which every measure and axe find what was planted."""
    page = browser.new_page(viewport={"width": 320, "height": 640})
    page.set_content(PLANTED)

    planted = {
        "smallTargets": [GLOVES],
        "closeTargets": [APART],
        "smallText": [ROOT_PX],
        "unseenFocus": [],
        "tooWide": [320],
        "paleText": [CONTRAST],
        "clippedText": [],
    }
    found = {measure: inspection.measured(page, measure, *numbers) for measure, numbers in planted.items()}
    barriers = inspection.barriers(page)
    page.locator("button").first.focus()
    found["hiddenFocus"] = inspection.measured(page, "hiddenFocus")
    page.close()

    assert [measure for measure, faults in found.items() if not faults] == []
    assert [fault for fault in found["smallTargets"] if "roomy" in fault] == []
    assert [fault for fault in found["clippedText"] + found["paleText"] if "all of it" in fault] == []
    assert {"image-alt", "color-contrast", "button-name"} <= {fault.partition(":")[0] for fault in barriers}
