"""Taking a window schedule over into a house."""

from __future__ import annotations

import json
from io import StringIO

import pytest
from django.core.management import call_command

from openings import services
from openings.errors import AlreadyDecided, BadRows
from openings.models import Opening, ScheduleImport
from openings.services.schedule import preview_import
from projects.errors import Archived, NotAllowed, NotThere
from projects.models import AuditEntry, Elevation
from projects.services import archive_house
from tests.factories.houses import HouseFactory

SCHEDULE = b"""elevation,mark,unit_width,unit_height,count
Front,W1,36,60,1
Front,W2,24,36,2
Rear,W3,48,48,1
"""
WIDER = SCHEDULE.replace(b"W1,36", b"W1,37")
ONE_BAD = SCHEDULE + b"Rear,W4,3-6,48,1\n"
WITHOUT_W3 = SCHEDULE.replace(b"Rear,W3,48,48,1\n", b"")


@pytest.fixture
def house(company):
    return HouseFactory(project__company=company)


def send(by, house, content=SCHEDULE):
    return services.start_import(by=by, house=house, file_name="lot-1.csv", content=content)


def take_over(by, house, content=SCHEDULE, **choices):
    return services.confirm_import(by=by, schedule_import=send(by, house, content), **choices)


def standings(preview):
    return {entry.opening.mark: str(entry.standing) for entry in preview.comparison.openings}


def test_a_confirmed_schedule_becomes_openings_on_their_faces(manager, house):
    take_over(manager, house)

    rows = Opening.objects.of(house.company).filter(house=house).order_by("mark")
    assert [(row.mark, row.elevation.name) for row in rows] == [
        ("W1", "Front"),
        ("W201", "Front"),
        ("W202", "Front"),
        ("W3", "Rear"),
    ]
    assert rows[0].unit_width_nm == 36 * 25_400_000
    assert rows[0].ro_width_nm == 36 * 25_400_000 + 12_700_000  # the default clearance of 1/2 in


def test_a_preview_writes_no_opening(manager, house):
    schedule = send(manager, house)

    preview = preview_import(schedule)

    assert standings(preview) == {"W1": "new", "W201": "new", "W202": "new", "W3": "new"}
    assert not Opening.objects.exists()
    assert not Elevation.objects.exists()


def test_the_same_schedule_twice_changes_nothing(manager, house):
    take_over(manager, house)
    before = list(Opening.objects.order_by("pk").values())

    preview = take_over(manager, house)

    assert set(standings(preview).values()) == {"same"}
    assert list(Opening.objects.order_by("pk").values()) == before


def test_only_the_changed_opening_gets_a_new_version(manager, house):
    take_over(manager, house)

    preview = take_over(manager, house, WIDER)

    assert standings(preview)["W1"] == "changed"
    changed = {entry.opening.mark: entry.changed for entry in preview.comparison.openings if entry.changed}
    assert changed == {"W1": ("unit_width", "ro_width")}
    assert dict(Opening.objects.values_list("mark", "version")) == {"W1": 2, "W201": 1, "W202": 1, "W3": 1}


def test_one_bad_row_saves_nothing(manager, house):
    schedule = send(manager, house, ONE_BAD)

    with pytest.raises(BadRows):
        services.confirm_import(by=manager, schedule_import=schedule)

    assert not Opening.objects.exists()
    assert ScheduleImport.objects.get().state == ScheduleImport.State.PREVIEW


def test_good_rows_are_kept_only_on_an_explicit_word(manager, house):
    preview = take_over(manager, house, ONE_BAD, keep_good_rows=True)

    assert Opening.objects.count() == 4
    assert [problem.row for problem in preview.reading.problems] == [5]


def test_an_opening_that_left_the_file_stays_and_is_named(manager, house):
    take_over(manager, house)

    preview = take_over(manager, house, WITHOUT_W3)

    assert preview.comparison.not_in_file == ("W3",)
    assert Opening.objects.get(mark="W3").removed_at is None


def test_an_opening_that_left_the_file_is_removed_on_an_explicit_word(manager, house):
    take_over(manager, house)

    take_over(manager, house, WITHOUT_W3, remove_missing=True)

    assert Opening.objects.get(mark="W3").removed_at is not None
    assert AuditEntry.objects.filter(action="remove opening", subject_name="W3").count() == 1


def test_a_schedule_is_decided_once(manager, house):
    schedule = send(manager, house)
    services.confirm_import(by=manager, schedule_import=schedule)

    with pytest.raises(AlreadyDecided):
        services.confirm_import(by=manager, schedule_import=schedule)

    assert Opening.objects.count() == 4


def test_an_archived_house_takes_no_schedule(manager, house):
    schedule = send(manager, house)
    archive_house(by=manager, house=house)

    with pytest.raises(Archived):
        services.confirm_import(by=manager, schedule_import=schedule)

    assert not Opening.objects.exists()


def test_the_foreman_imports_no_schedule(foreman, house):
    with pytest.raises(NotAllowed):
        send(foreman, house)

    assert not ScheduleImport.objects.exists()


def test_another_company_cannot_tell_that_the_house_exists(stranger, house):
    with pytest.raises(NotThere):
        send(stranger, house)


def test_a_match_is_remembered_for_the_builder(manager, house):
    foreign = SCHEDULE.replace(b"mark", b"Kennung")
    schedule = send(manager, house, foreign)
    services.match_import(by=manager, schedule_import=schedule, match={"Kennung": "mark"})
    neighbour = HouseFactory(project=house.project, company=house.company)

    preview = preview_import(send(manager, neighbour, foreign))

    assert set(standings(preview)) == {"W1", "W201", "W202", "W3"}


def command(path, house, *options):
    out = StringIO()
    code = 0
    try:
        call_command("import_openings", str(path), "--house", house.code, "--json", *options, stdout=out)
    except SystemExit as leave:
        code = leave.code
    return code, json.loads(out.getvalue())


def test_the_command_answers_as_published(manager, house, tmp_path):
    path = tmp_path / "lot.csv"
    path.write_bytes(SCHEDULE)

    code, answer = command(path, house)

    assert code == 0
    assert answer == {
        "rows": 3, "openings": 4, "new": 4, "changed": 0, "same": 0, "not_in_file": [], "saved": True,
        "problems": [], "notices": [],
    }  # fmt: skip
    assert Opening.objects.count() == 4


def test_the_command_writes_nothing_for_the_same_file(manager, house, tmp_path):
    path = tmp_path / "lot.csv"
    path.write_bytes(SCHEDULE)
    command(path, house)
    before = AuditEntry.objects.count(), ScheduleImport.objects.count()

    code, answer = command(path, house)

    assert (code, answer["same"], answer["new"]) == (0, 4, 0)
    assert (AuditEntry.objects.count(), ScheduleImport.objects.count()) == before


def test_the_command_refuses_a_bad_row_and_saves_nothing(manager, house, tmp_path):
    path = tmp_path / "lot.csv"
    path.write_bytes(ONE_BAD)

    code, answer = command(path, house)

    assert (code, answer["saved"]) == (1, False)
    assert answer["problems"][0]["row"] == 5
    assert not Opening.objects.exists()


def test_the_command_checks_without_saving(manager, house, tmp_path):
    path = tmp_path / "lot.csv"
    path.write_bytes(SCHEDULE)

    code, answer = command(path, house, "--check")

    assert (code, answer["saved"], answer["new"]) == (0, False, 4)
    assert not Opening.objects.exists()


def test_the_command_names_an_unknown_house(manager, house, tmp_path):
    path = tmp_path / "lot.csv"
    path.write_bytes(SCHEDULE)
    house.code = "NOWHERE"

    code, answer = command(path, house)

    assert code == 1
    assert "NOWHERE" in answer["problems"][0]["problem"]
