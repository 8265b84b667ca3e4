"""Debian's Chromium as the browser tests and the screenshots use it: found, started, signed in."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from projects.models import Membership

NAMES = ("chromium", "chromium-browser", "google-chrome")
# nothing but the pages asked for: no proxy, no updates, no start-up pages
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--no-proxy-server",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
    "--no-first-run",
]
DESK, PHONE = (1280, 900), (360, 740)
PATIENCE_MS = 30_000  # two busy cores; nothing waits this long where all is well


def path() -> str:
    """Return where Chromium lies, empty where there is none."""
    return next((found for name in NAMES if (found := shutil.which(name))), "")


@contextmanager
def running() -> Iterator[Browser]:
    """Run a Chromium until the block ends."""
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path(), args=ARGUMENTS)
        try:
            yield browser
        finally:
            browser.close()


def context(
    browser: Browser,
    *,
    person: Membership | None = None,
    size: tuple[int, int] = DESK,
    scheme: str = "light",
    **options: Any,
) -> BrowserContext:
    """Return a browser profile of its own, signed in as `person`; close it after use."""
    made = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        color_scheme=scheme,
        reduced_motion="reduce",
        locale="en-US",
        **options,
    )
    made.set_default_timeout(PATIENCE_MS)
    if person is not None:
        sign_in(made, person)
    return made


def sign_in(made: BrowserContext, person: Membership) -> None:
    """Give the profile a session of the person; only the sign-in's own test types a password."""
    client = Client()
    client.force_login(person.user)
    name = settings.SESSION_COOKIE_NAME
    cookie = {"name": name, "value": client.cookies[name].value, "domain": "localhost", "path": "/"}
    made.add_cookies([{**cookie, "httpOnly": True, "sameSite": "Lax"}])


def settle(page: Page) -> None:
    """Wait until the parts that a page fetches for itself have come."""
    page.wait_for_load_state("load")
    page.wait_for_function("() => !document.querySelector('[hx-trigger=\"load\"], .htmx-request')")
