"""What a browser finds wrong with a page: barriers, errors, sideways scroll, small targets, unseen focus."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import ConsoleMessage, Page

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
EVERY_RULE = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"]}
# by night only the colours differ
COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
NARROWEST = 320
TARGET = 48

SMALL_TARGETS = """least => [...document.querySelectorAll(
    'a[href], button, summary, select, input:not([type=hidden]), textarea, [tabindex="0"]')]
  .filter(one => one.checkVisibility() && !one.closest('.skip') && !one.matches('[role=region]'))
  .map(one => [one.closest('label') || (one.id && /checkbox|radio/.test(one.type)
    && document.querySelector(`label[for="${one.id}"]`)) || one, one])
  .map(([place, one]) => [one, place.getBoundingClientRect(), one.getBoundingClientRect()])
  .filter(([, place, own]) => Math.max(place.height, own.height) < least - 0.5
    || Math.max(place.width, own.width) < least - 0.5)
  .map(([one, place, own]) => `${one.outerHTML.slice(0, 90)} is ${own.width} x ${own.height}`)"""
SMALL_TEXT = """least => [...document.querySelectorAll('main p, main li, main td, main dd')]
  .filter(one => one.checkVisibility() && one.innerText.trim() && !one.matches('.aside, .aside *'))
  .filter(one => parseFloat(getComputedStyle(one).fontSize) < least)
  .map(one => one.outerHTML.slice(0, 90))"""
UNSEEN_FOCUS = """() => [...document.querySelectorAll(
    'a[href], button, summary, select, input:not([type=hidden]), textarea, [tabindex="0"]')]
  .filter(one => one.checkVisibility() && !one.disabled)
  .filter(one => {
    one.focus({focusVisible: true});
    const style = getComputedStyle(one);
    return document.activeElement !== one
      || style.outlineStyle === 'none' || parseFloat(style.outlineWidth) < 2;
  }).map(one => one.outerHTML.slice(0, 90))"""


@dataclass
class Watch:
    """What a page complained of since it is watched: console errors, broken scripts, refused requests."""

    heard: list[str] = field(default_factory=list)

    def over(self, page: Page) -> Watch:
        """Listen to the page from now on."""
        page.on("console", self._listen)
        page.on("pageerror", lambda error: self.heard.append(f"script broke: {error}"))
        page.on("requestfailed", lambda asked: self.heard.append(f"not loaded: {asked.url}"))
        return self

    def _listen(self, message: ConsoleMessage) -> None:
        # a page that refuses is refused with an error status, which the console repeats
        if (
            message.type in {"error", "warning"}
            and "the server responded with a status of 4" not in message.text
        ):
            self.heard.append(f"console: {message.text}")


def barriers(page: Page, options: dict[str, Any]) -> list[str]:
    """Return what axe finds, one line per place."""
    page.evaluate(f"() => {{ if (!window.axe) {{ {AXE_SCRIPT} }} }}")
    found = page.evaluate("options => axe.run(document, options).then(found => found.violations)", options)
    return [
        f"{each['id']}: {' '.join(node['target'])}: {node['failureSummary'].splitlines()[-1].strip()}"
        for each in found
        for node in each["nodes"]
    ]


def too_wide(page: Page, width: int) -> list[str]:
    """Return how far the page can be pushed sideways, and what sticks out."""
    there = page.evaluate("() => document.documentElement.scrollWidth")
    if there <= width:
        return []
    sticking = page.evaluate(
        """width => [...document.querySelectorAll('body *')]
          .filter(one => one.getBoundingClientRect().right > width + 1)
          .filter(one => !one.closest('.scroll, .drawing-strip'))
          .slice(0, 3).map(one => one.outerHTML.slice(0, 90))""",
        width,
    )
    return [f"{there} px wide on {width} px: {sticking}"]


def told(name: str, faults: Sequence[str]) -> list[str]:
    """Return the faults with the page's name in front."""
    return [f"{name}: {fault}" for fault in faults]
