"""A hand on a page: it presses what can be pressed, by the words on it, and counts how often."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page

from tests.browser import chromium, inspection

FARTHEST = 300  # stops of the Tab key; the week's sheet has the most


class Hand:
    """Presses buttons and links of one page. `pressed` counts them; typing is free."""

    def __init__(self, page: Page, *, runs_scripts: bool = True) -> None:
        """Work on `page`, with nothing pressed yet; a page without scripts fetches nothing later."""
        self.page = page
        self.pressed = 0
        self.runs_scripts = runs_scripts

    def press(self, words: str, *, exact: bool = False) -> None:
        """Press the first button or link with these words and wait for what comes."""
        found = self.page.get_by_role("button", name=words, exact=exact)
        found = found.or_(self.page.get_by_role("link", name=words, exact=exact))
        self.on(found.first)

    def on(self, place: Locator) -> None:
        """Press this very place and wait for what comes."""
        self._push(place)
        self.pressed += 1
        if self.runs_scripts:
            chromium.settle(self.page)
        else:
            self.page.wait_for_load_state("load")

    def type(self, label: str, text: str) -> None:
        """Put `text` in the field whose label begins so."""
        self._fill(self.page.get_by_label(re.compile(rf"^\s*{re.escape(label)}")).first, text)

    @property
    def sees(self) -> str:
        """Return the words of the sheet."""
        return self.page.locator("main").inner_text()

    def _push(self, place: Locator) -> None:
        place.click()

    def _fill(self, place: Locator, text: str) -> None:
        place.fill(text)


class Keys(Hand):
    """A hand that has keys alone. It gets to a place by Tab, and sees at each stop where it is."""

    def _push(self, place: Locator) -> None:
        self._reach(place)
        place.press("Enter")

    def _fill(self, place: Locator, text: str) -> None:
        self._reach(place)
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(text)

    def _reach(self, place: Locator) -> None:
        place.wait_for()
        for _ in range(FARTHEST):
            if place.evaluate("one => one === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
            assert inspection.measured(self.page, "hiddenFocus") == []
        raise AssertionError(f"no Tab leads to {place}")
