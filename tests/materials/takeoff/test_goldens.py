"""One golden per method: every line and every total of a worked opening."""

from __future__ import annotations

from typing import Any

import pytest

from materials.catalogue.document import takeoff_document
from materials.catalogue.rollup import roll_up_house
from openings.takeoff.compute import RULES_VERSION, take_off_house
from openings.takeoff.settings import apply_settings
from openings.takeoff.specification import DEFAULT
from tests.materials.takeoff.goldens import GOLDENS, Golden

CLOSE = 1e-6
OF_VERSION = "1"


@pytest.mark.parametrize("golden", GOLDENS.values(), ids=GOLDENS)
def test_worked_opening_needs_exactly_its_lines_and_totals(golden: Golden) -> None:
    takeoff = take_off_house([golden.row], apply_settings(DEFAULT, golden.settings))

    document = takeoff_document(takeoff, roll_up_house(takeoff.demand, takeoff.specification))

    assert not takeoff.problems
    assert_golden(golden, {**document, "notices": list(takeoff.notices)})


def test_goldens_were_worked_for_these_rules() -> None:
    assert RULES_VERSION == OF_VERSION


def assert_golden(golden: Golden, document: dict[str, Any]) -> None:
    """Compare a whole answer with what was worked by hand."""
    (opening,) = document["openings"]
    by_place = {(line["part"], line["zone"]): line for line in opening["lines"]}
    assert len(by_place) == len(opening["lines"])
    assert set(by_place) == set(golden.lines)
    for place, expected in golden.lines.items():
        for key, value in expected.items():
            assert by_place[place][key] == close(value), f"{place} {key}"
    for key, value in golden.opening.items():
        assert opening[key] == close(value), key
    for key, value in golden.house.items():
        assert document["house"][key] == close(value), key
    assert_notices(opening["notices"], golden.opening_notices)
    assert_notices(document["notices"], golden.house_notices)


def assert_notices(notices: list[str], expected: tuple[str, ...]) -> None:
    """Each expected text stands in one notice, and there is no other."""
    assert len(notices) == len(expected), notices
    for text in expected:
        assert any(text in notice for notice in notices), notices


def close(value: Any) -> Any:
    """Return the value for comparing to 1e-6, inside lists and tables too."""
    if isinstance(value, dict):
        return {key: close(part) for key, part in value.items()}
    if isinstance(value, list):
        return [close(part) for part in value]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return pytest.approx(value, abs=CLOSE)
    return value
