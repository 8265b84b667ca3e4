"""Rows are written by services; signals, file reading and clocks stay where they belong."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from tests.architecture.source import APPS, CORE, ROOT, Module, core, dotted, ours

WRITERS = (
    "/services/",
    "/services.py",
    "projects/jobs.py",
    "projects/triggers.py",
    "projects/kept.py",
    "config/benches/issuing.py",  # an order longer than drafting makes any, in a database that is thrown away
    "config/benches/exports.py",  # a cut list longer than a house has any, in a database that is thrown away
)
ALWAYS_WRITE = {
    "save",
    "delete",
    "create",
    "bulk_create",
    "bulk_update",
    "get_or_create",
    "update_or_create",
    "asave",
    "adelete",
    "acreate",
}
# what is no row although it is written with the same words
NO_ROWS = ("session", "cache", "storage", "workbook", "image", "form", "self", "client")
MOVING = {"now", "today", "utcnow", "time", "monotonic", "perf_counter"}
CORE_MAY_READ_FILES = {
    "openings/methods/load.py",
    "materials/catalogue/load.py",
    "materials/compatibility/load.py",
}
SIGNALS_MAY_BE_CONNECTED = {"projects/apps.py", "config/celery.py"}


def writes(files: tuple[Module, ...]) -> list[str]:
    return [
        f"{module.line(node)} {dotted(node.func)}"
        for module in files
        if not any(place in f"/{module.path}" for place in WRITERS)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and is_write(node)
    ]


def is_write(call: ast.Call) -> bool:
    if not isinstance(call.func, ast.Attribute):
        return False
    receiver = dotted(call.func.value)
    if any(word in receiver.lower() for word in NO_ROWS):
        return False
    if call.func.attr in ALWAYS_WRITE:
        return True
    rows = (".objects", ".filter()", ".of()", ".exclude()", ".select_for_update()")
    return call.func.attr == "update" and any(part in receiver for part in rows)


def imported(module: Module) -> Iterator[str]:
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        if isinstance(node, ast.ImportFrom) and node.module:
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def calls(module: Module) -> Iterator[str]:
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call):
            yield dotted(node.func)


def file_readers(files: tuple[Module, ...]) -> list[str]:
    reading = {"read_text", "read_bytes", "iterdir", "glob", "rglob"}
    return [
        module.path
        for module in files
        if any(call in {"open", "io.open"} or call.rpartition(".")[2] in reading for call in calls(module))
    ]


def clock_readers(files: tuple[Module, ...]) -> list[str]:
    return [f"{module.path} {call}" for module in files for call in calls(module) if is_moving(call)]


def is_moving(call: str) -> bool:
    """Return whether a call answers differently tomorrow; `datetime.time(...)` only builds a value."""
    owner, _, name = call.rpartition(".")
    clock = owner.rpartition(".")[2]
    return clock in {"random", "secrets", "uuid", "timezone"} or (
        clock in {"datetime", "dt", "date", "time"} and name in MOVING and (name != "time" or owner == "time")
    )


def connects_signals(module: Module) -> bool:
    known = ("django.dispatch.receiver", "django.db.models.signals")
    return any(name.startswith(known) for name in imported(module)) or any(
        call.endswith(".connect") and not call.startswith(("sqlite3", "psycopg")) for call in calls(module)
    )


def sample(text: str, path: str = "projects/views/sample.py") -> tuple[Module, ...]:
    return (Module(path, text),)


def test_rows_are_written_by_services_alone() -> None:
    assert writes(ours()) == []


def test_the_search_for_writes_sees_each_kind_of_write() -> None:
    for line in [
        "house.save()",
        "House.objects.create(a=1)",
        "House.objects.of(c).update(a=1)",
        "order.delete()",
    ]:
        assert len(writes(sample(line))) == 1, line
        assert writes(sample(line, "projects/services/sample.py")) == []
    for line in ["values.update(a=1)", "request.session.save()", "known.update(other)"]:
        assert writes(sample(line)) == [], line


def test_only_the_triggers_hang_on_a_signal() -> None:
    connected = {module.path for module in ours() if connects_signals(module)}

    assert connected <= SIGNALS_MAY_BE_CONNECTED
    assert connects_signals(*sample("from django.db.models.signals import post_save"))


def test_only_the_loaders_of_the_core_read_files() -> None:
    assert set(file_readers(core())) <= CORE_MAY_READ_FILES
    assert file_readers(sample("open('x')")) == ["projects/views/sample.py"]
    assert file_readers(sample("Path(x).read_text()")) == ["projects/views/sample.py"]


def test_core_reads_no_clock_and_throws_no_dice() -> None:
    assert clock_readers(core()) == []
    assert clock_readers(sample("datetime.now()")) == ["projects/views/sample.py datetime.now"]


def test_package_files_of_apps_and_core_stay_empty() -> None:
    folders = [ROOT / app for app in APPS] + [ROOT / folder for folder in CORE]
    full = [folder for folder in folders if (folder / "__init__.py").read_text().strip()]

    assert full == []
