"""How a test run behaves: files of its own, and an option that turns a skip into a failure."""

from __future__ import annotations

import shutil
from collections.abc import Generator, Iterator
from typing import Any

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add `--no-skips`: on our own machines a test that cannot run is a failure."""
    parser.addoption("--no-skips", action="store_true", help="count every skipped test as a failure")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn the report of a skip into a failure that keeps its reason, where asked to."""
    report = yield
    if item.config.getoption("--no-skips") and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, and no test may be: {reason_of(report)}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """The same for a file that skips itself while it is read."""
    report = yield
    if collector.config.getoption("--no-skips") and report.skipped:
        report.outcome = "failed"
        report.longrepr = f"skipped, and no file may be: {reason_of(report)}"
    return report


def reason_of(report: Any) -> str:
    """Return why a test was skipped."""
    return str(report.longrepr[2]) if isinstance(report.longrepr, tuple) else str(report.longrepr)


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings: None, files_of_this_run: None) -> None:
    """Let the database's folder be there before the database."""


@pytest.fixture(scope="session", autouse=True)
def files_of_this_run() -> Iterator[None]:
    """Make the folder of this run's database and files, named by its process, and remove it afterwards."""
    from django.conf import settings

    settings.TEST_FILES.mkdir(parents=True, exist_ok=True)
    yield
    shutil.rmtree(settings.TEST_FILES, ignore_errors=True)
