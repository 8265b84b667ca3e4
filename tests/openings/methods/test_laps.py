from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.methods.laps import check_order, order_of, precedence, step_precedence
from openings.methods.load import load_method
from projects.errors import BadValue
from tests.openings.methods.cases import ALL, ITEMS, NEEDED, ORDER, TABLE, WRB_AFTER, every_choice, rows

FULL = {"fin": "folding", "corners": "open", "drip_cap": True}


@pytest.mark.parametrize("code", ALL)
def test_each_pair_is_judged_as_the_guides_table_says_and_no_other(code):
    method = load_method(code)
    for of, chosen in every_choice():
        if of != code:
            continue
        choices = method.choices(**chosen)
        reverse, wrong = set(), set()
        for first, then in permutations(ITEMS, 2):
            check = check_order(method, choices, (first, then))
            reverse |= {(lap.over, lap.under) for lap in check.reverse_laps}
            wrong |= {(after.first, after.then) for after in check.wrong_order}
            assert len(check.reverse_laps) + len(check.wrong_order) <= 1
        assert reverse == set(rows(TABLE, code, chosen)), chosen
        assert wrong == set(rows(ORDER, code, chosen)), chosen


@pytest.mark.parametrize("code", ALL)
def test_missing_names_what_method_and_choices_need(code):
    method = load_method(code)
    for of, chosen in every_choice():
        if of != code:
            continue

        check = check_order(method, method.choices(**chosen), ())

        assert set(check.missing) == {name for (name,) in rows(NEEDED, code, chosen)}, chosen
        assert check.is_legal
        assert not check.is_complete


@pytest.mark.parametrize("code", ALL)
def test_the_methods_own_order_is_legal_and_complete(code):
    method = load_method(code)
    for of, chosen in every_choice():
        if of != code:
            continue
        choices = method.choices(**chosen)

        check = check_order(method, choices, order_of(method, choices))

        assert check.is_legal
        assert check.is_complete
        assert check.not_here == ()


def test_the_order_of_b1_sealed_worked_by_hand():
    method = load_method("B1")
    choices = method.choices(over_fin="sealed", fin="folding", corners="open")

    # field guide section 3, order of work: WRB, sill, pan, corners, jambs, beads, unit, screws, patches,
    # face bead, head strip, flap down and taped, inside seal
    assert order_of(method, choices) == (
        "wrb", "sill strip", "pan", "pan corner", "jamb strip", "hinge bead", "back bead", "unit",
        "fasteners", "corner patch", "face bead", "head strip", "head flap", "flap tape", "inside seal",
    )  # fmt: skip


def test_the_order_of_a_worked_by_hand():
    method = load_method("A")

    assert order_of(method, method.choices()) == (
        "sill strip", "pan", "pan corner", "back bead", "unit", "fasteners", "jamb strip", "head strip",
        "wrb below", "wrb beside", "wrb above", "inside seal",
    )  # fmt: skip


@pytest.mark.parametrize("code", ALL)
def test_jamb_strip_lies_over_the_sill_strip_in_every_method(code):
    method = load_method(code)

    check = check_order(method, method.choices(), ("jamb strip", "sill strip"))

    assert [(lap.over, lap.under) for lap in check.reverse_laps] == [("jamb strip", "sill strip")]


def test_head_flap_behind_the_head_strip_is_one_reverse_lap():
    # facts.md T49: the head flap behind the head strip is reported as 1 reverse lap (published rule)
    method = load_method("B1")
    choices = method.choices()
    order = list(order_of(method, choices))
    order.remove("head flap")
    order.insert(order.index("head strip"), "head flap")

    check = check_order(method, choices, order)

    assert [(lap.over, lap.under) for lap in check.reverse_laps] == [("head flap", "head strip")]
    assert check.wrong_order == ()
    assert not check.is_legal


@pytest.mark.parametrize("code", WRB_AFTER)
def test_wrb_below_is_legal_before_and_after_the_sill_strip(code):
    method = load_method(code)
    choices = method.choices()

    for order in (("wrb below", "sill strip"), ("sill strip", "wrb below")):
        assert check_order(method, choices, order).is_legal


def test_a_sill_cover_blocks_the_drainage_of_every_pan():
    method = load_method("B1")

    blocked = {
        pan: check_order(method, method.choices(pan=pan), ("unit", "sill cover"))
        for pan in ("membrane", "stretch", "rigid", "none")
    }

    assert {pan: check.drainage_blocked for pan, check in blocked.items()} == {
        "membrane": True, "stretch": True, "rigid": True, "none": False,
    }  # fmt: skip
    assert not blocked["membrane"].is_legal
    assert blocked["none"].is_legal
    assert all(check.not_here == () for check in blocked.values())


def test_what_the_choices_do_not_have_is_said_and_not_judged():
    method = load_method("A")

    check = check_order(
        method, method.choices(pan="none"), ("pan", "sill strip", "head flap", "over-fin strip", "wrb")
    )

    # pan before sill strip would be a reverse lap if there were a pan
    assert check.not_here == ("pan", "head flap", "over-fin strip", "wrb")
    assert check.is_legal


def test_a_part_of_an_order_is_legal_though_not_complete():
    method = load_method("B1")

    check = check_order(method, method.choices(), ("sill strip", "pan", "pan corner", "jamb strip"))

    assert check.is_legal
    assert check.missing == (
        "wrb", "back bead", "unit", "fasteners", "head strip", "head flap", "flap tape", "inside seal",
    )  # fmt: skip


def test_a_drip_cap_is_never_missing():
    method = load_method("B1")

    check = check_order(method, method.choices(drip_cap=True), ("unit",))

    assert "drip cap" not in check.missing


def test_an_item_named_twice_is_refused():
    method = load_method("B1")

    with pytest.raises(BadValue, match="'pan' is named twice"):
        check_order(method, method.choices(), ("pan", "unit", "pan"))


@pytest.mark.parametrize("code", ["A", "A1"])
@pytest.mark.parametrize("over_fin", ["none", "sealed"])
def test_strips_over_the_fins_leave_no_other_over_fin_detail(code, over_fin):
    with pytest.raises(BadValue, match=f"Method {code} can't have over fin {over_fin}"):
        load_method(code).choices(over_fin=over_fin)


def test_an_unknown_choice_is_refused_with_the_known_ones():
    with pytest.raises(BadValue, match="'tray' is no pan we know") as refused:
        load_method("B1").choices(pan="tray")

    assert refused.value.remedy == "Use one of: membrane, stretch, rigid, none."


def any_order(draw, pairs, names):
    """Draw one of the orders that keep each pair."""
    left, order = list(names), []
    while left:
        free = [name for name in left if not any(then == name and first in left for first, then in pairs)]
        name = draw(st.sampled_from(free))
        order.append(name)
        left.remove(name)
    return order


@st.composite
def orders(draw):
    """Draw a method, choices and any order that keeps its precedence."""
    code, chosen = draw(st.sampled_from(every_choice()))
    method = load_method(code)
    choices = method.choices(**chosen)
    return method, choices, any_order(draw, precedence(method, choices), order_of(method, choices))


@st.composite
def schedules(draw):
    """Draw a method, choices and any order of its steps that keeps their precedence."""
    code, chosen = draw(st.sampled_from(every_choice()))
    method = load_method(code)
    choices = method.choices(**chosen)
    steps = {step.code: step for step in method.steps_for(choices)}
    return method, choices, [steps[c] for c in any_order(draw, step_precedence(method, choices), steps)]


@settings(deadline=None)
@given(orders())
def test_any_order_that_keeps_the_precedence_is_legal_and_complete(drawn):
    method, choices, order = drawn

    check = check_order(method, choices, order)

    assert check.is_legal
    assert check.is_complete


@settings(deadline=None)
@given(schedules())
def test_any_order_of_steps_passes_the_shingle_check(drawn):
    method, choices, steps = drawn
    here = set(order_of(method, choices))

    check = check_order(method, choices, [name for step in steps for name in step.layers if name in here])

    assert check.is_legal
    assert check.is_complete


@settings(deadline=None)
@given(orders(), st.data())
def test_swapping_two_lapped_layers_is_never_legal(drawn, data):
    method, choices, order = drawn
    laps = [lap for lap in method.laps if lap.when.holds(choices) and not lap.tuck]
    lap = data.draw(st.sampled_from([lap for lap in laps if {lap.over, lap.under} <= set(order)]))
    over, under = order.index(lap.over), order.index(lap.under)
    order[over], order[under] = order[under], order[over]

    check = check_order(method, choices, order)

    assert lap in check.reverse_laps
    assert not check.is_legal
