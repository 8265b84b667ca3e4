"""What must hold of the database and of our own data files before the first request."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, register
from django.db import OperationalError, connections

from config.environment import SQLITE, SQLITE_OPTIONS, Misconfigured
from materials.catalogue.check import catalogue_problems
from materials.catalogue.load import FOLDER as MATERIALS
from materials.compatibility.check import pair_problems
from materials.compatibility.load import FILE as PAIRS
from openings.methods.load import FOLDER as METHODS

FULL = 2
HINT = "See config/environment.py."
MUST_BE_ON = ("fsync", "synchronous_commit", "full_page_writes")
SAFE: dict[str, Callable[[Any], bool]] = {
    "journal_mode": lambda mode: mode == "wal",
    "synchronous": lambda level: level == FULL,
    "foreign_keys": lambda on: on == 1,
    "busy_timeout": lambda milliseconds: milliseconds >= 5000,
}


@register
def sqlite_is_safe(app_configs: Any, **_: Any) -> Sequence[CheckMessage]:
    """Refuse a SQLite database whose settings would lose or block writes."""
    database = settings.DATABASES["default"]
    if database["ENGINE"] != SQLITE:
        return []
    options = database.get("OPTIONS", {})
    wrong = [name for name, value in SQLITE_OPTIONS.items() if options.get(name) != value]
    return [Error(f"SQLite option {name} is not as it must be.", hint=HINT) for name in wrong]


@register("database")
def sqlite_runs_safely(
    app_configs: Any, databases: Sequence[str] | None = None, **_: Any
) -> Sequence[CheckMessage]:
    """Ask the open SQLite connection what it really uses."""
    connection = connections["default"]
    if connection.vendor != "sqlite" or not databases:
        return []
    with connection.cursor() as cursor:
        found = {name: cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in SAFE}
    return [
        Error(f"SQLite runs with {name} = {found[name]}.", hint=HINT)
        for name, is_safe in SAFE.items()
        if not is_safe(found[name])
    ]


@register("database")
def postgres_runs_safely(
    app_configs: Any, databases: Sequence[str] | None = None, **_: Any
) -> Sequence[CheckMessage]:
    """Ask the open PostgreSQL connection whether what it acknowledges survives a power cut."""
    connection = connections["default"]
    if connection.vendor != "postgresql" or not databases:
        return []
    with connection.cursor() as cursor:
        found = {name: cursor.execute(f"SHOW {name}").fetchone()[0] for name in MUST_BE_ON}
    return [
        Error(f"PostgreSQL runs with {name} = {value}.", hint=f"Set {name} = on.")
        for name, value in found.items()
        if value != "on"
    ]


def refuse_unsafe_database() -> None:
    """Raise Misconfigured where the database could lose what it acknowledged: asked before the first request.

    A database that is away is asked nothing: pages say so until it is back.
    """
    try:
        wrong = [
            error
            for ask in (sqlite_runs_safely, postgres_runs_safely)
            for error in ask(None, databases=["default"])
        ]
    except OperationalError:
        return
    finally:
        connections["default"].close()  # processes that part later share none
    if wrong:
        told = " ".join(f"{error.msg} {error.hint}" for error in wrong)
        raise Misconfigured(f"Lapwise does not start. {told}")


@register
def workbooks_are_read_safely(app_configs: Any, **_: Any) -> Sequence[CheckMessage]:
    """Refuse to start where workbooks would expand entities."""
    import openpyxl

    if openpyxl.DEFUSEDXML:
        return []
    return [Error("openpyxl reads workbooks without defusedxml.", hint="Install defusedxml.")]


@register
def methods_and_catalogue_fit(
    app_configs: Any, *, methods: Path = METHODS, materials: Path = MATERIALS, **_: Any
) -> Sequence[CheckMessage]:
    """Refuse a method or material file that can't be used, and a method that names what nobody sells."""
    found = catalogue_problems(materials, methods=methods)
    return [Error(problem.problem, hint=problem.remedy) for problem in found]


@register
def pairs_can_be_judged(app_configs: Any, *, pairs: Path = PAIRS, **_: Any) -> Sequence[CheckMessage]:
    """Refuse a table of what fits what in which a value is missing, unknown, or without grade and source."""
    return [Error(problem.problem, hint=problem.remedy) for problem in pair_problems(pairs)]
