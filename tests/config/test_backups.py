"""R34: a backup brings everything back, made while others write; what is damaged is refused untouched."""

from __future__ import annotations

import os
import shutil
import sqlite3
import threading
from pathlib import Path

import pytest
from django.conf import settings as now
from django.core.management import CommandError
from django.db import connection

from config.backup.contents import pack, unpack
from config.backup.keeping import database
from config.backup.sealing import read_key
from materials.models import PurchaseOrder
from projects.jobs import path_of
from projects.models import Company, Job, Project
from projects.services import remove_company
from projects.tasks import run_job
from tests.config.loaded import run
from tests.factories.houses import ProjectFactory
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def office(manager, settings, tmp_path):
    """An office with an issued order and its PDF, and a key of backups that is its own."""
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.BACKUP_KEY_FILE = tmp_path / "key"
    site = build(manager)
    site.issued()
    run_job(Job.objects.get().pk)
    return site


def backed_up(folder: Path) -> Path:
    answer, code = run("backup", str(folder))
    assert code == 0
    return Path(answer["file"])


def packed_with(folder: Path, **changes) -> Path:
    """Return a backup whose list says something else than a backup's would."""
    real = unpack(backed_up(folder), key=read_key(now.BACKUP_KEY_FILE), into=folder)
    told = {name: getattr(real, name) for name in ("made_at", "engine", "migrations", "tables")}
    told |= changes
    file = folder / "lapwise-other.backup"
    with file.open("wb") as target:
        pack(
            target,
            key=read_key(now.BACKUP_KEY_FILE),
            database=folder / "database",
            media=folder / "media",
            told=told,
        )
    return file


def broken(answer) -> set[str]:
    return {check["what"] for check in answer["checks"] if not check["holds"]}


def cut_short(file: Path) -> Path:
    """Return a copy that lacks its last hundredth."""
    short = file.with_name("short.backup")
    short.write_bytes(file.read_bytes()[: file.stat().st_size * 99 // 100])
    return short


def test_a_lost_company_comes_back_with_its_rows_and_files(office, tmp_path):
    file = backed_up(tmp_path / "kept")
    before, pdf = database().hashes(), path_of(Job.objects.get()).read_bytes()
    remove_company(company=office.by.company)
    assert not Company.objects.exists()

    answer, code = run("restore", str(file.parent))

    assert (code, answer["file"], answer["files"]) == (0, str(file), 1)
    assert database().hashes() == before
    assert path_of(Job.objects.get()).read_bytes() == pdf
    assert run("verify_invariants")[1] == 0


def test_what_is_there_is_replaced_only_where_that_is_said(office, tmp_path):
    file, before = backed_up(tmp_path / "kept"), database().hashes()
    ProjectFactory(company=office.by.company)
    stray = Path(now.MEDIA_ROOT, "jobs", "later.pdf")
    stray.write_bytes(b"%PDF")

    refused, code = run("restore", str(file))
    assert code == 1
    assert refused["problems"][0]["problem"] == "The database is not empty."
    assert database().hashes() != before

    assert run("restore", str(file), "--replace")[1] == 0
    assert database().hashes() == before
    assert not stray.exists()


def test_the_drill_holds_while_others_write(office, tmp_path):
    over = threading.Event()

    def write():
        while not over.is_set():
            ProjectFactory(company=office.by.company)
        connection.close()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        answer, code = run("drill")
    finally:
        over.set()
        writer.join()

    assert (code, broken(answer)) == (0, set())
    assert [check["what"] for check in answer["checks"]] == [
        *("made", "whole", "restored", "tables", "files", "invariants")
    ]
    assert PurchaseOrder.objects.count() == 1


def test_a_backup_that_lacks_its_last_hundredth_fails_the_drill_and_touches_nothing(office, tmp_path):
    """The negative control."""
    short, before = cut_short(backed_up(tmp_path / "kept")), database().hashes()

    answer, code = run("drill", str(short))
    refused, refusal = run("restore", str(short), "--replace")

    assert (code, broken(answer), refusal) == (1, {"usable"}, 1)
    assert "damaged" in refused["problems"][0]["problem"]
    assert database().hashes() == before


def test_the_drill_sees_a_row_that_differs(office, tmp_path):
    """The negative control: what was listed at the backup is compared with what came back."""
    file = packed_with(tmp_path / "kept", tables={**database().hashes(), "projects_company": "0" * 64})

    answer, code = run("drill", str(file))

    assert (code, broken(answer)) == (1, {"tables"})


@pytest.mark.embedded
def test_the_plain_copy_of_a_file_in_use_lacks_what_was_saved_last(office, tmp_path):
    """The negative control: this is what a backup must not be."""
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    ProjectFactory(company=office.by.company, code="SAVED-LAST")
    plain, copy = tmp_path / "plain.sqlite3", tmp_path / "copy.sqlite3"

    shutil.copy(connection.settings_dict["NAME"], plain)
    database().dump(copy)

    def has(file):
        with sqlite3.connect(file) as opened:
            found = opened.execute("SELECT 1 FROM projects_project WHERE code = 'SAVED-LAST'").fetchone()
        return found is not None

    assert (has(plain), has(copy)) == (False, True)


@pytest.mark.production
def test_missing_programs_are_said_in_plain_words(office, tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))

    answer, code = run("backup", str(tmp_path / "kept"))

    assert code == 1
    assert answer["problems"][0]["problem"] == "pg_dump is not on this machine."
    assert not list((tmp_path / "kept").iterdir())


def test_a_full_disk_leaves_no_half_backup(office, tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)

    answer, code = run("backup", str(tmp_path / "kept"))

    assert (code, list((tmp_path / "kept").iterdir())) == (1, [])
    assert "no space left" in answer["problems"][0]["problem"]


def test_only_the_newest_stay_where_that_is_asked_for(office, tmp_path):
    files = [backed_up(tmp_path / "kept") for _ in range(3)]

    answer, _ = run("backup", str(tmp_path / "kept"), "--keep", "2")

    left = sorted((tmp_path / "kept").iterdir())
    assert left == [files[2], Path(answer["file"])]
    with pytest.raises(CommandError):
        run("backup", str(tmp_path / "kept"), "--keep", "few")
    assert run("backup", str(tmp_path / "kept"), "--keep", "0")[1] == 2


def test_what_a_killed_backup_left_behind_goes_with_the_next(office, tmp_path, settings):
    settings.VAR, folder = tmp_path / "var", tmp_path / "kept"
    (settings.VAR / "unsealed-old").mkdir(parents=True)
    folder.mkdir()
    half, other = folder / ".lapwise-20260101T000000.000Z.1f.part", folder / "unsealed-list.txt"
    for path in (settings.VAR / "unsealed-old" / "database", half, other):
        path.write_bytes(b"half")
    for path in (settings.VAR / "unsealed-old", half, other):
        os.utime(path, (0, 0))

    file = backed_up(folder)

    assert list(settings.VAR.iterdir()) == []
    assert sorted(folder.iterdir()) == [file, other]


def test_another_key_is_said_and_a_lost_one_too(office, tmp_path, settings):
    file = backed_up(tmp_path / "kept")
    settings.BACKUP_KEY_FILE.write_text("another key that is also long enough to be one, as it seems")
    assert "another key" in run("restore", str(file))[0]["problems"][0]["problem"]

    settings.BACKUP_KEY_FILE.unlink()
    assert "can't be read" in run("restore", str(file))[0]["problems"][0]["problem"]

    settings.BACKUP_KEY_FILE.write_text("short")
    assert "too short" in run("backup", str(file.parent))[0]["problems"][0]["problem"]


def test_a_later_versions_backup_is_refused(office, tmp_path):
    file = packed_with(tmp_path / "kept", migrations=("projects.9999_later",))

    answer, code = run("restore", str(file), "--replace")

    assert (code, answer["problems"][0]["problem"]) == (1, "The backup was made by a later version.")
    assert Project.objects.exists()
