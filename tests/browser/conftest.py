"""A Chromium and a served demo for all browser tests of a worker; each finds the demo as it was loaded."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass

import pytest
from django.db import connection
from playwright.sync_api import Browser, Page
from pytest_django.live_server_helper import LiveServer

from tests.browser import chromium, site

MISSING = "no Chromium on this machine. As root: apt-get install chromium"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add `--every-view`: each page in each width by day and by night, not only where both differ."""
    parser.addoption("--every-view", action="store_true", help="look at each page in every width and scheme")


def pytest_itemcollected(item: pytest.Item) -> None:
    """Mark every test here: `-m 'not browser'` leaves them out.

    They are for the embedded default: what a browser adds is layout, focus and scripts, and those do not
    depend on the database. SQLite lets each test have the demo back within milliseconds.
    """
    item.add_marker("browser")
    item.add_marker("embedded")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Let these tests run together, in their random order: a worker then needs one Chromium and one demo."""
    items.sort(key=lambda item: item.get_closest_marker("browser") is None)


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


@dataclass(frozen=True)
class Loaded:
    """The demo, an empty company beside it, and a copy of the database that holds both."""

    demo: site.Site
    empty: site.Site
    copy: sqlite3.Connection


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Run a Chromium; without one the tests skip and say so."""
    if not chromium.path():
        pytest.skip(MISSING)
    # Playwright's loop runs in the test's own thread; nothing of ours is asynchronous
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with chromium.running() as running:
        yield running
    del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]


@pytest.fixture(scope="package")
def transactional_db(browser, django_db_setup, django_db_blocker) -> Iterator[None]:
    """Open the database, and give it back as it was.

    By this name pytest-django sees that the tests here need one; under any other they would use the real one.
    """
    with django_db_blocker.unblock(), closing(copy_of_database()) as before:
        yield
        put_back(before)


@pytest.fixture(autouse=True)
def _triggers_let_the_flush_pass() -> None:
    """Leave the triggers up: nothing here is flushed."""


@pytest.fixture(scope="package")
def loaded(transactional_db) -> Iterator[Loaded]:
    """Load the demo, its first week this week and one crew's first sheet made, and an empty company."""
    demo, empty = site.load_demo(site.this_monday()), site.empty()
    site.make_sheets(demo.company, demo.things["crew"]())
    with closing(copy_of_database()) as copy:
        yield Loaded(demo, empty, copy)


@pytest.fixture(scope="package")
def served(loaded) -> Iterator[str]:
    """Serve the application, and give its address."""
    server = LiveServer("localhost")
    yield server.url
    server.stop()


@pytest.fixture
def visit(browser, loaded, served) -> Iterator[Visit]:
    """Give a test the demo as it was loaded, and close what it opened, whatever became of it."""
    put_back(loaded.copy)
    yield Visit(served, loaded.demo, loaded.empty, browser)
    for context in browser.contexts:
        context.close()


def copy_of_database() -> sqlite3.Connection:
    """Return a copy of all rows and triggers, in memory."""
    copy = sqlite3.connect(":memory:")
    connection.ensure_connection()
    connection.connection.backup(copy)
    return copy


def put_back(copy: sqlite3.Connection) -> None:
    """Make the database what it was when it was copied."""
    copy.backup(connection.connection)
