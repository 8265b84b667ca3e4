"""Why a number stands there: formula, inputs with their origins, source, grade."""

from __future__ import annotations

import pytest

from openings.methods.load import load_method
from openings.takeoff.opening import OpeningInput
from openings.takeoff.rules.registry import RULES
from openings.takeoff.settings import SETTINGS
from openings.takeoff.why import ROW_LABELS, Why, explain
from tests.openings.takeoff.cases import inch, lines, opening, spec, taken


def reason(part: str, zone: str, which: OpeningInput, **texts: str) -> Why:
    """Return why the line of a part and zone stands there."""
    specification = spec(**texts)
    method = load_method(which.method or specification.method)
    line = lines(part, which, **texts)[zone]
    return explain(line, opening=which, specification=specification, method=method)


def test_sill_strip_opens_to_its_formula_and_inputs() -> None:
    why = reason("sill strip", "sill", opening(), jamb_strip_width="6")

    found = [(given.name, given.value, given.origin) for given in why.inputs]
    assert why.formula == "ro_width + 2 x (jamb_strip_width - jamb_wrap)"
    assert (why.grade, why.source) == ("P", "AAMA 2400-10, 5.7.3.2 and Note 3")
    assert found == [
        ("ro_width", '36 1/2"', "window schedule"),
        ("jamb_strip_width", '6"', "specification"),
        ("jamb_wrap", '0"', "specification"),
        ("sill_strip_width", '9"', "specification"),
        ("method", "B1: Jamb strips behind the side fins, WRB before the window", "specification"),
    ]


def test_default_keeps_its_grade_and_a_changed_value_has_none() -> None:
    why = reason("back bead", "sill", opening(), back_bead="3/8")

    by_name = {given.name: given for given in why.inputs}
    assert (by_name["weep_gap"].grade, by_name["weep_gap"].source) == ("C", "common practice, no source")
    assert (by_name["back_bead"].grade, by_name["back_bead"].source) == ("", "set by the company")


def test_rows_own_value_comes_from_the_schedule() -> None:
    which = opening(pan="stretch", wall_depth=inch(5), method="A1")

    by_name = {given.name: given for given in reason("pan", "sill", which).inputs}

    assert (by_name["wall_depth"].value, by_name["wall_depth"].origin) == ('5"', "window schedule")
    assert by_name["stock_widths"].value == '4", 6", 9", 12"'
    assert by_name["method"].origin == "window schedule"


def test_methods_own_over_fin_detail_is_the_methods() -> None:
    which = opening(over_fin="membrane", method="B")

    assert reason("over-fin strip", "left jamb", which).inputs[-2].origin == "window schedule"


def test_every_rule_names_inputs_that_exist() -> None:
    named = {name for rule in RULES for stated in rule.states for name in stated.inputs}

    assert named <= set(SETTINGS) | set(ROW_LABELS)


@pytest.mark.parametrize("method", ["A", "A1", "B", "B1"])
def test_every_line_can_say_why(method: str) -> None:
    which = opening(method=method, fin="folding", corners="open", mulls=1)
    specification = spec(drip_cap="yes", head_extra="1")

    for line in taken(which, drip_cap="yes", head_extra="1").lines:
        why = explain(line, opening=which, specification=specification, method=load_method(method))

        assert why.formula
        assert why.source
        assert why.grade in ("P", "M", "C", "D", "E")
        assert all(given.value for given in why.inputs)


def test_every_rule_states_part_formula_grade_and_source() -> None:
    for rule in RULES:
        for stated in rule.states:
            assert stated.part
            assert stated.basis
            assert stated.source
            assert stated.grade in ("P", "M", "C", "D", "E")
