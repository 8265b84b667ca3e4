"""The takeoff of a house that is stored answers as its schedule does."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command

from tests.factories.houses import HouseFactory
from tests.factories.people import CompanyFactory
from tests.materials.takeoff.command import run_takeoff

SCHEDULE = (
    "elevation,mark,unit_width,unit_height,count,method,glass,offset,fastener_max\n"
    "Front,W1,36,60,,A1,2x3mm,30,8\n"
    "Rear,R,24,36,3,,,,\n"
)


@pytest.fixture
def house(db: None, tmp_path: Path) -> Any:
    """Return a house with the schedule's openings."""
    found = HouseFactory(code="LOT-7")
    path = tmp_path / "house.csv"
    path.write_text(SCHEDULE, encoding="utf-8")
    call_command("import_openings", str(path), "--house", "LOT-7", "--json", stdout=StringIO())
    return found


def answer(*arguments: str) -> tuple[dict[str, Any], int]:
    """Return the JSON answer for a stored house and the exit code."""
    out, code = StringIO(), 0
    try:
        call_command("takeoff", "--json", *arguments, stdout=out)
    except SystemExit as stop:
        code = int(str(stop.code))
    return json.loads(out.getvalue()), code


def test_stored_house_answers_as_its_schedule(house: Any, tmp_path: Path) -> None:
    from_file, _ = run_takeoff(tmp_path, SCHEDULE)

    document, code = answer("--house", "lot-7")

    assert code == 0
    assert {key: document[key] for key in ("specification", "openings", "house")} == {
        key: from_file[key] for key in ("specification", "openings", "house")
    }


def test_settings_lie_over_the_houses_specification(house: Any) -> None:
    document, _ = answer("--house", "LOT-7", "--set", "jamb_strip_width=6")

    assert document["specification"]["jamb_strip_width"] == 6
    # RO 24 1/2 + 2 x 6 = 36.5
    (rear,) = [opening for opening in document["openings"] if opening["mark"] == "R01"]
    assert rear["lines"][0]["length_in"] == 36.5


def test_unknown_house_is_refused(house: Any) -> None:
    document, code = answer("--house", "LOT-8")

    assert code == 1
    assert "LOT-8" in document["problems"][0]["problem"]


def test_several_companies_ask_for_one(house: Any) -> None:
    CompanyFactory(code="OTHER")

    assert answer("--house", "LOT-7")[1] == 1
    assert answer("--house", "LOT-7", "--company", house.company.code)[1] == 0
    assert answer("--house", "LOT-7", "--company", "OTHER")[1] == 1


@pytest.mark.django_db
def test_file_asks_no_question_of_the_database(tmp_path: Path, django_assert_num_queries: Any) -> None:
    with django_assert_num_queries(0):
        _, code = run_takeoff(tmp_path, SCHEDULE)

    assert code == 0
