"""Runs the takeoff command on a schedule given as text."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path
from typing import Any

from django.core.management import call_command


def run_takeoff(folder: Path, schedule: str, *arguments: str, **settings: str) -> tuple[dict[str, Any], int]:
    """Return the JSON answer and the exit code."""
    path = folder / "schedule.csv"
    path.write_text(schedule, encoding="utf-8")
    sets = [f"--set={name}={value}" for name, value in settings.items()]
    out, code = StringIO(), 0
    try:
        call_command("takeoff", "--file", str(path), "--json", *sets, *arguments, stdout=out)
    except SystemExit as stop:
        code = int(str(stop.code))
    return json.loads(out.getvalue()), code
