"""A served demo and a Chromium for each file of browser tests; both are gone before the next file's tests."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from django.core.management import call_command
from playwright.sync_api import Browser, BrowserContext, Page
from pytest_django.live_server_helper import LiveServer

from projects import triggers
from tests.browser import chromium, site

MISSING = "no Chromium on this machine. As root: apt-get install chromium"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test here: `-m 'not browser'` leaves them out."""
    for item in items:
        if "tests/browser/" in item.path.as_posix():
            item.add_marker("browser")


@dataclass(frozen=True)
class Visit:
    """What a browser test works with: where the application answers, the demo, and an empty company."""

    address: str
    demo: site.Site
    empty: site.Site
    browser: Browser

    def open(self, person: str, address: str = "/", **options: object) -> Page:
        """Return a page at `address`, seen by the demo's `person` (a role)."""
        context = chromium.context(self.browser, person=self.demo.people[person], **options)
        page = context.new_page()
        self.go(page, address)
        return page

    def go(self, page: Page, address: str) -> None:
        """Bring the page to `address` and wait until all of it is there."""
        page.goto(self.address + address)
        chromium.settle(page)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Run a Chromium; without one the tests skip and say so."""
    if not chromium.path():
        pytest.skip(MISSING)
    # Playwright's loop runs in the test's own thread; nothing of ours is asynchronous
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with chromium.running() as running:
        yield running
    del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]


@pytest.fixture(scope="module")
def transactional_db(django_db_setup, django_db_blocker) -> Iterator[None]:
    """Open the database for a whole file of tests, and empty it afterwards: a demo takes its time to load."""
    with django_db_blocker.unblock():
        yield
        triggers.remove()  # append-only rows refuse to go; the flush puts the triggers up again
        call_command("flush", verbosity=0, interactive=False)


@pytest.fixture(autouse=True)
def _triggers_let_the_flush_pass() -> None:
    """Leave the triggers up between tests here: nothing is emptied before the file's end."""


@pytest.fixture(scope="module")
def live_server(transactional_db) -> Iterator[LiveServer]:
    """Serve the application to a whole file of tests."""
    server = LiveServer("localhost")
    yield server
    server.stop()


@pytest.fixture(scope="module")
def visit(browser, live_server) -> Visit:
    """Load the demo, its first week this week, and found an empty company beside it."""
    demo = site.load_demo(site.this_monday())
    return Visit(live_server.url, demo, site.empty(), browser)


@pytest.fixture(autouse=True)
def _no_page_stays_open(request) -> Iterator[None]:
    """Close what a test opened, whatever became of it."""
    yield
    if "visit" in request.fixturenames:
        for context in request.getfixturevalue("browser").contexts:
            _close(context)


def _close(context: BrowserContext) -> None:
    for page in context.pages:
        page.close()
    context.close()
