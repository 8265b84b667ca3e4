"""The takeoff command: its answer, its refusals and its exit codes."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.materials.takeoff.command import run_takeoff
from tests.materials.takeoff.goldens import GOLDENS, A, Golden
from tests.materials.takeoff.test_goldens import assert_golden

TWO_ROWS = "elevation,mark,unit_width,unit_height\nFront,W1,36,60\nFront,W2,36,sixty\n"


@pytest.mark.parametrize("golden", GOLDENS.values(), ids=GOLDENS)
def test_schedule_file_brings_the_worked_answer(golden: Golden, tmp_path: Path) -> None:
    document, code = run_takeoff(tmp_path, golden.schedule, **golden.settings)

    assert code == 0
    assert document["problems"] == []
    assert_golden(golden, document)


def test_answer_has_the_published_keys_in_order(tmp_path: Path) -> None:
    document, _ = run_takeoff(tmp_path, A.schedule)

    assert list(document) == ["specification", "openings", "house", "problems", "notices"]
    assert list(document["openings"][0]["lines"][0]) == [
        "part", "zone", "kind", "count", "length_in", "width_in", "basis", "grade", "source",
    ]  # fmt: skip


def test_bad_row_refuses_the_whole_takeoff(tmp_path: Path) -> None:
    document, code = run_takeoff(tmp_path, TWO_ROWS)

    assert code == 1
    assert document["openings"] == []
    assert [problem["row"] for problem in document["problems"]] == [3]
    assert "house" not in document


def test_row_that_contradicts_its_method_names_its_row(tmp_path: Path) -> None:
    schedule = "mark,unit_width,unit_height,method,over_fin\nW1,36,60,A,membrane\nW2,36,60,A,sealed\n"

    document, code = run_takeoff(tmp_path, schedule)

    assert code == 1
    assert document["openings"] == []
    assert [problem["row"] for problem in document["problems"]] == [3]


def test_all_bad_rows_are_named_at_once(tmp_path: Path) -> None:
    schedule = "mark,unit_width,unit_height,method,over_fin\nW1,36,60,A,sealed\nW2,wide,60,,\nW3,36,60,,\n"

    document, code = run_takeoff(tmp_path, schedule)

    assert code == 1
    assert [problem["row"] for problem in document["problems"]] == [2, 3]
    assert document["openings"] == []


def test_roll_too_short_for_a_strip_is_refused(tmp_path: Path) -> None:
    document, code = run_takeoff(tmp_path, A.schedule, roll_length="6 ft")

    assert code == 1
    assert '77 1/2"' in document["problems"][0]["problem"]
    assert document["openings"] == []


def test_unknown_setting_is_wrong_usage(tmp_path: Path) -> None:
    document, code = run_takeoff(tmp_path, A.schedule, strip_widht="9")

    assert code == 2
    assert "strip_widht" in document["problems"][0]["problem"]


def test_bad_value_of_a_setting_is_refused(tmp_path: Path) -> None:
    document, code = run_takeoff(tmp_path, A.schedule, sealant_waste="10")

    assert code == 1
    assert "sealant_waste" in document["problems"][0]["problem"]
    assert document.get("openings", []) == []


def test_setting_without_equals_sign_is_wrong_usage(tmp_path: Path) -> None:
    document, code = run_takeoff(tmp_path, A.schedule, "--set=pan")

    assert code == 2
    assert document["problems"]


def test_takeoff_needs_a_file_or_a_house() -> None:
    with pytest.raises(CommandError, match="--file"):
        call_command("takeoff", "--json", stdout=StringIO())


def test_missing_file_is_refused_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    out = StringIO()

    with pytest.raises(SystemExit) as stop:
        call_command("takeoff", "--file", "nowhere.csv", "--json", stdout=out)

    assert stop.value.code == 1
    assert "nowhere.csv" in out.getvalue()


def test_foreign_headers_are_matched_by_option(tmp_path: Path) -> None:
    schedule = "Ref,Wide,Tall\nW1,36,60\n"

    document, code = run_takeoff(tmp_path, schedule, "--match", "Ref=mark,Wide=unit_width,Tall=unit_height")

    assert code == 0
    assert document["openings"][0]["ro_width_in"] == 36.5


def test_person_reads_rolls_tubes_fasteners_and_patches_first(tmp_path: Path) -> None:
    path = tmp_path / "schedule.csv"
    path.write_text(A.schedule, encoding="utf-8")
    out = StringIO()

    call_command("takeoff", "--file", str(path), stdout=out)

    lines = [line.strip() for line in out.getvalue().splitlines()]
    assert lines[0] == "House"
    assert lines[1].startswith('9" membrane')
    assert "1 roll of 75 ft" in lines[1]
    assert lines[2].startswith('12" membrane')
    assert "1 roll of 75 ft" in lines[2]
    assert lines[3].startswith("sealant")
    assert "3 tubes of 10.1 fl oz" in lines[3]
    assert lines[4].startswith("fasteners")
    assert '20, 2" long' in lines[4]
    assert lines[5].startswith("corner patches")
    assert any(line.startswith("W1 (Front)") for line in lines)


def test_identical_neighbours_are_listed_once_for_a_person(tmp_path: Path) -> None:
    path = tmp_path / "schedule.csv"
    path.write_text("elevation,mark,unit_width,unit_height,count\nFront,R,36,60,2\n", encoding="utf-8")
    out = StringIO()

    call_command("takeoff", "--file", str(path), stdout=out)

    assert "R01, R02 (Front)" in out.getvalue()
    assert out.getvalue().count("sill strip") == 1
