"""After `make setup` any command works at once, with no environment and no database yet."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

pytestmark = pytest.mark.embedded


def told(folder: Path, *words: str) -> tuple[int, dict[str, Any]]:
    """Return exit code and document of a command on a folder of its own."""
    done = subprocess.run(
        [sys.executable, "manage.py", *words, "--json"],
        env={"PATH": os.environ["PATH"], "VAR_FOLDER": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    return done.returncode, json.loads(done.stdout)


def test_the_first_command_makes_the_tables_that_it_needs(tmp_path: Path) -> None:
    code, document = told(tmp_path, "verify_invariants")

    assert code == 0
    assert {finding["holds"] for finding in document["invariants"]} == {True}
    assert (tmp_path / "lapwise.sqlite3").exists()


def test_without_a_company_a_command_says_where_one_comes_from(tmp_path: Path) -> None:
    code, document = told(tmp_path, "order", "--week", "2026-06-08")

    assert code == 1
    assert document["problems"][0]["problem"] == "There is no company yet."


def test_a_file_is_taken_off_without_a_database(tmp_path: Path) -> None:
    code, document = told(tmp_path / "var", "takeoff", "--file", "docs/examples/two-faces.csv")

    assert (code, document["problems"]) == (0, [])
    assert not (tmp_path / "var" / "lapwise.sqlite3").exists()


@pytest.mark.django_db
def test_tables_of_another_version_are_left_to_their_keeper(capsys) -> None:
    MigrationRecorder(connection).record_unapplied("sessions", "0001_initial")

    with pytest.raises(SystemExit) as left:
        call_command("verify_invariants", json=True)

    assert left.value.code == 1
    assert "manage.py migrate" in json.loads(capsys.readouterr().out)["problems"][0]["remedy"]
