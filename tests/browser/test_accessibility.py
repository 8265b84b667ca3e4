"""Every page is for everybody: axe finds nothing, nothing scrolls sideways, nothing is too small to hit."""

from __future__ import annotations

import pytest

from tests.browser import chromium, inspection, pages

ROOT_PX = 18  # the size of text on the pages of people who work standing up


def faults_of(visit, page, place, size):
    """Return what is wrong with one page at one size, by day and by night."""
    watch = inspection.Watch().over(page)
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": size[0], "height": size[1]})
    visit.go(page, place.address)
    found = [*watch.heard, *inspection.too_wide(page, size[0])]
    if place.role and not page.get_by_role("navigation", name="Places").get_by_text("Today").count():
        found.append("no way to the other places")
    found += inspection.barriers(page, inspection.EVERY_RULE)
    page.emulate_media(color_scheme="dark")
    found += [f"by night: {fault}" for fault in inspection.barriers(page, inspection.COLOURS)]
    if size == chromium.PHONE:
        page.set_viewport_size({"width": inspection.NARROWEST, "height": 640})
        found += inspection.too_wide(page, inspection.NARROWEST)
    else:
        found += [f"no focus to see: {one}" for one in page.evaluate(inspection.UNSEEN_FOCUS)]
    return inspection.told(f"{place.name} at {size[0]}", found)


def by_person(album):
    """Return the album's places by who opens them: one browser profile serves all of a person's pages."""
    found = {}
    for place in album:
        found.setdefault(place.role, []).append(place)
    return found


@pytest.mark.parametrize("size", [chromium.DESK, chromium.PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("firm", ["demo", "empty"])
def test_no_page_has_a_barrier_by_day_or_night(visit, firm, size):
    there = getattr(visit, firm)
    faults = []

    for role, places in by_person(pages.album(there)).items():
        context = chromium.context(visit.browser, person=there.people.get(role), size=size)
        for place in places:
            page = context.new_page()
            faults += faults_of(visit, page, place, size)
            page.close()
        context.close()

    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("role", ["foreman", "crew"])
def test_gloves_hit_every_control_on_site_pages(visit, role):
    context = chromium.context(visit.browser, person=visit.demo.people[role], size=chromium.PHONE)
    page = context.new_page()
    faults = []

    for place in pages.places(visit.demo, role):
        visit.go(page, place.address)
        small = page.evaluate(inspection.SMALL_TARGETS, inspection.TARGET)
        text = page.evaluate(inspection.SMALL_TEXT, ROOT_PX)
        faults += inspection.told(place.name, [*small, *(f"small text: {one}" for one in text)])

    assert not faults, "\n".join(faults)
