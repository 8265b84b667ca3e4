"""A hand on a page: it presses what can be pressed, by the words on it, and counts how often."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page

from tests.browser import chromium


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
        place.click()
        self.pressed += 1
        if self.runs_scripts:
            chromium.settle(self.page)
        else:
            self.page.wait_for_load_state("load")

    def type(self, label: str, text: str) -> None:
        """Put `text` in the field whose label begins so."""
        self.page.get_by_label(re.compile(rf"^\s*{re.escape(label)}")).first.fill(text)

    @property
    def sees(self) -> str:
        """Return the words of the sheet."""
        return self.page.locator("main").inner_text()
