"""What a browser finds wrong with a page: barriers, errors, sideways scroll, small targets, unseen focus."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import ConsoleMessage, Page, Request

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
OPTIONS = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations", "incomplete"]}
# a drawing is one picture with one text; its strokes are nobody's to find
PLACE = {"exclude": [["svg[role=img] > *"]]}
MEASURES = (Path(__file__).parent / "measures.js").read_text(encoding="utf-8")
# what axe leaves to a person, and why nobody need look each time
LEFT_OPEN = {
    "color-contrast": "tests/projects/test_sheet.py measures the colours, and no hatch lies behind words",
    "th-has-data-cells": "a house's name heads the rows below it (rowgroup), which axe does not follow",
}
# bigger text and wider spacing. Source: WCAG 2.2, 1.4.4 and 1.4.12
TWICE_THE_TEXT = "html { font-size: 200%; }"
WIDE_SPACING = """
  * { line-height: 1.5; letter-spacing: 0.12em; word-spacing: 0.16em; }
  p { margin-block-end: 2em; }"""


@dataclass
class Watch:
    """What a page complained of since it is watched: console errors, broken scripts, refused requests."""

    heard: list[str] = field(default_factory=list)

    def over(self, page: Page) -> Watch:
        """Listen to the page from now on."""
        page.on("console", self._listen)
        page.on("pageerror", lambda error: self.heard.append(f"script broke: {error}"))
        page.on("requestfailed", self._miss)
        return self

    def taken(self) -> list[str]:
        """Return what was heard, once."""
        heard, self.heard = self.heard, []
        return heard

    def _listen(self, message: ConsoleMessage) -> None:
        # a page that refuses is refused with an error status, which the console repeats
        if (
            message.type in {"error", "warning"}
            and "the server responded with a status of 4" not in message.text
        ):
            self.heard.append(f"console: {message.text}")

    def _miss(self, asked: Request) -> None:
        # whoever leaves a page takes back what it still asks for, such as its icon
        if asked.failure != "net::ERR_ABORTED":
            self.heard.append(f"not loaded: {asked.url}: {asked.failure}")


def barriers(page: Page, *, colours: bool = True) -> list[str]:
    """Return what axe finds or can't tell, one line per place; contrast takes most of its time."""
    page.evaluate(f"() => {{ if (!window.axe) {{ {AXE_SCRIPT} }} }}")
    options = OPTIONS if colours else {**OPTIONS, "rules": {"color-contrast": {"enabled": False}}}
    found = page.evaluate("([place, options]) => axe.run(place, options)", [PLACE, options])
    untold = [each for each in found["incomplete"] if each["id"] not in LEFT_OPEN]
    return [
        f"{each['id']}: {' '.join(map(str, node['target']))}: {node['failureSummary']}".replace("\n ", "")
        for each in [*found["violations"], *untold]
        for node in each["nodes"]
    ]


def measured(page: Page, measure: str, *numbers: float) -> list[str]:
    """Return what one of the measures of `measures.js` finds."""
    return page.evaluate(f"numbers => {{ {MEASURES}\nreturn {measure}(...numbers); }}", list(numbers))


def with_style(page: Page, style: str) -> None:
    """Lay a reader's own stylesheet over the page's."""
    page.evaluate(
        """style => {
          const sheet = new CSSStyleSheet();
          sheet.replaceSync(style);
          document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
        }""",
        style,
    )


def told(name: str, faults: Sequence[str]) -> list[str]:
    """Return the faults with the page's name in front."""
    return [f"{name}: {fault}" for fault in faults]
