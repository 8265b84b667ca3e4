"""The demo's own files: tables, window schedules as builders sent them, makers' sheets."""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent
SCHEDULES = FOLDER / "schedules"
INSTRUCTIONS = FOLDER / "sheets"


def table(name: str) -> dict[str, Any]:
    """Return a TOML file of the demo."""
    return tomllib.loads((FOLDER / name).read_text(encoding="utf-8"))


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of a CSV file of the demo."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def schedule(name: str) -> bytes:
    """Return a window schedule as the builder sent it."""
    return (SCHEDULES / name).read_bytes()


def instruction(name: str) -> bytes:
    """Return an instruction sheet of an invented maker, a PDF."""
    return (INSTRUCTIONS / name).read_bytes()


def photo(name: str) -> bytes:
    """Return a photo as a phone would send it; it is drawn for the demo."""
    return (FOLDER / "photos" / name).read_bytes()


def company_code() -> str:
    """Return the code of the demo's company."""
    return str(table("company.toml")["company"]["code"])
