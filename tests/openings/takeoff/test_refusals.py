"""What is refused in words rather than guessed, and that nothing is taken off then."""

from __future__ import annotations

import pytest

from openings.methods.load import load_method
from openings.takeoff.compute import take_off, take_off_house
from openings.takeoff.specification import DEFAULT
from projects.errors import BadValue
from tests.openings.takeoff.cases import inch, opening, spec


@pytest.mark.parametrize(
    ("texts", "column"),
    [
        ({"foam_thickness": "1 9/16"}, "foam_thickness"),
        ({"jamb_wrap": "9"}, "jamb_wrap"),
        ({"jamb_wrap": "6", "strip_width": "4"}, "jamb_wrap"),
        ({"weep_gap": "0"}, "weep_gap"),
    ],
)
def test_contradictory_settings_are_refused_for_the_house(texts: dict[str, str], column: str) -> None:
    takeoff = take_off_house([opening()], spec(**texts))

    assert [problem.column for problem in takeoff.problems] == [column]
    assert takeoff.problems[0].remedy
    assert not takeoff.openings
    assert not takeoff.demand


def test_foam_of_one_and_a_half_inches_is_still_fastened_through() -> None:
    assert not take_off_house([opening()], spec(foam_thickness="1 1/2")).problems


def test_weep_gap_of_nothing_is_no_matter_without_a_pan() -> None:
    assert not take_off_house([opening()], spec(weep_gap="0", pan="none")).problems


def test_bad_row_is_named_by_row_column_and_value() -> None:
    openings = [
        opening(mark="W1", row=2),
        opening(mark="W2", row=3, method="A", over_fin="none"),
        opening(mark="W3", row=4, wall_depth=inch(9)),
        opening(mark="W4", row=5, ro_height=inch(59)),
    ]

    takeoff = take_off_house(openings, DEFAULT)

    found = [(problem.row, problem.column, problem.value) for problem in takeoff.problems]
    assert found == [(3, "over_fin", "none"), (4, "pan", "membrane"), (5, "ro_height", '59"')]
    assert all(problem.remedy for problem in takeoff.problems)
    assert [each.opening.mark for each in takeoff.openings] == ["W1"]


def test_rough_opening_smaller_than_the_unit_is_refused() -> None:
    with pytest.raises(BadValue) as refused:
        take_off(opening(ro_width=inch("35.5")), DEFAULT, load_method("B1"))

    assert '35 1/2"' in refused.value.problem
    assert '36"' in refused.value.problem


def test_unknown_method_of_a_row_is_refused() -> None:
    takeoff = take_off_house([opening(method="C", row=2)], DEFAULT)

    assert [problem.row for problem in takeoff.problems] == [2]
    assert not takeoff.openings


def test_refusals_are_short_and_plain() -> None:
    openings = [opening(method="A", over_fin="none"), opening(wall_depth=inch(9)), opening(ro_width=inch(30))]
    problems = [
        *take_off_house(openings, DEFAULT).problems,
        *(
            problem
            for name, text in (("foam_thickness", "2"), ("jamb_wrap", "9"), ("weep_gap", "0"))
            for problem in take_off_house(openings, spec(**{name: text})).problems
        ),
    ]

    assert len(problems) == 6
    for problem in problems:
        words = f"{problem.problem} {problem.remedy}".lower().split()
        assert len(problem.problem.split()) <= 25
        assert not {"invalid", "oops", "null", "exception", "error"} & set(words)
