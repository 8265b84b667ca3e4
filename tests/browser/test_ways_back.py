"""The way back: the browser's button leads through what a list was filtered by, and to whole pages."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.browser.hand import Hand


def test_back_leads_through_what_a_list_was_filtered_by(visit):
    page = visit.open("manager", "/projects/")
    hand, rows, filter_text = Hand(page), page.get_by_role("row"), page.get_by_label(re.compile("Find"))
    everything = rows.count()

    hand.type("Find", "pennycress")
    # the head and the one project of that name
    expect(rows).to_have_count(2)
    page.wait_for_url("**/?q=pennycress*")
    hand.press("Pennycress Meadow")
    page.go_back()

    page.wait_for_url("**/?q=pennycress*")
    expect(rows).to_have_count(2)
    expect(filter_text).to_have_value("pennycress")
    page.go_back()
    page.wait_for_url("**/projects/")
    expect(rows).to_have_count(everything)
    expect(filter_text).to_have_value("")
    expect(page.get_by_role("navigation", name="Places")).to_have_count(1)
