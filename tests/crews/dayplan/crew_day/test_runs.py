"""Which steps go together."""

from __future__ import annotations

from dataclasses import replace

from crews.dayplan.crew_day.runs import find_units, forerunners
from crews.dayplan.crew_day.visit import Visit, VisitLag
from crews.dayplan.problem import LagKind
from tests.crews.dayplan.crew_day.days import method_visit, opening, step


def grouped(visit):
    return [[[each.code for each in run.steps] for run in unit.runs] for unit in find_units(visit)]


def test_sealed_opening_is_done_in_seven_runs():
    # One prepares; one unpacks and runs the beads, both set at once and one fastens at once; one finishes;
    # the flap waits for the face bead; the inside seal is somebody's inside.
    assert grouped(method_visit("B1", over_fin="sealed", fin="folding", corners="open")) == [
        [["check", "cut-wrb", "sill-strip", "pan", "jamb-strips"]],
        [["unpack", "hinge-bead", "back-bead"], ["set"], ["fasten"]],
        [["look", "corner-patches", "face-bead", "head-strip"]],
        [["flap"]],
        [["inside-seal"]],
    ]


def test_flap_without_a_face_bead_goes_with_the_head_strip():
    assert ["look", "head-strip", "flap"] in [unit[0] for unit in grouped(method_visit("B1"))]


def test_bead_and_set_are_planned_together():
    assert [["bead"], ["set"]] in grouped(opening())


def test_what_can_wait_is_no_part_of_a_run_that_must_begin_soon():
    soon = VisitLag("set", "fasten", LagKind.FINISH_START, "None stands unfastened.", maximum=5)
    visit = opening(with_flap=True)

    assert [["fasten", "face"]] in grouped(visit)
    assert [["bead"], ["set"], ["fasten"]] in grouped(replace(visit, lags=(*visit.lags, soon)))
    assert [["face"]] in grouped(replace(visit, lags=(*visit.lags, soon)))


def test_step_that_must_wait_begins_a_run_of_its_own():
    assert [["flap"]] in grouped(opening(with_flap=True))


def test_step_for_another_number_of_hands_begins_a_run():
    visit = Visit("H", "F", "W", (step("a", 1), step("b", 1, 2), step("c", 1, 2)), (("a", "b"), ("b", "c")))

    assert grouped(visit) == [[["a"]], [["b", "c"]]]


def test_inside_step_does_not_join_a_run_outside():
    inside = replace(step("seal", 1), is_outside=False)
    visit = Visit("H", "F", "W", (step("a", 1), step("b", 1), inside), (("a", "b"), ("a", "seal")))

    assert grouped(visit) == [[["a", "b"]], [["seal"]]]


def test_runs_that_would_wait_for_each_other_fall_apart():
    # As runs a1-a2 and b1-b2 each would have to be planned before the other: a2 after b1, b2 after a1.
    steps = (step("a1", 1), step("b1", 1, 2), step("a2", 1), step("b2", 1, 2))
    order = (("a1", "a2"), ("b1", "b2"), ("b1", "a2"), ("a1", "b2"))
    visit = Visit("H", "F", "W", steps, order)

    units = find_units(visit)

    assert sorted(code for unit in units for code in unit.codes) == ["a1", "a2", "b1", "b2"]
    assert can_be_planned(units, visit)


def can_be_planned(units, visit):
    left, done = list(units), set()
    while ready := [unit for unit in left if forerunners(unit, visit) <= done]:
        done = done.union(*(unit.codes for unit in ready))
        left = [unit for unit in left if unit not in ready]
    return not left


def test_forerunners_come_from_order_and_from_waits():
    visit = opening(with_flap=True)
    flap = next(unit for unit in find_units(visit) if "flap" in unit.codes)

    assert forerunners(flap, visit) == {"face"}
