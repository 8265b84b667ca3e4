from __future__ import annotations

from fractions import Fraction

import pytest

from openings.methods.laps import step_precedence
from openings.methods.load import load_method, load_methods
from projects.quantities.duration import Duration
from projects.quantities.length import Length
from tests.openings.methods.cases import ALL, WRB_AFTER, WRB_BEFORE, every_choice


def total(method, choices):
    """Return person-minutes for the demo's 3 x 5 ft unit."""
    return sum(step.work.whole_minutes for step in method.steps_for(choices))


def test_b1_sealed_takes_81_person_minutes():
    # field guide section 8: 4+2+3+7+5+4+3+4+16+5+3+3+9+3+4+6 = 81 (folding fin, open corners)
    method = load_method("B1")

    assert total(method, method.choices(over_fin="sealed", fin="folding", corners="open")) == 81


def test_a1_takes_about_69_person_minutes():
    # field guide section 8: about 69. Without face bead (9) and hinge bead (3): 81 - 12 = 69
    method = load_method("A1")

    assert total(method, method.choices(corners="open")) == 69


def test_all_minutes_are_the_companys_own_estimate():
    ours = [step for method in load_methods().values() for step in method.steps if not step.by_others]

    assert {step.grade for step in ours} == {"E"}
    assert all(step.source.startswith("company's own, demo") for step in ours)


def test_setting_takes_two_people():
    people = {step.people for m in load_methods().values() for step in m.steps if step.code == "set"}

    assert people == {2}


@pytest.mark.parametrize("code", ALL)
def test_the_unit_is_set_before_the_back_bead_skins(code):
    # field guide section 8: start-start maximum = skin-over time - set minutes
    (lag,) = [lag for lag in load_method(code).lags if lag.from_step == "back-bead"]

    assert (lag.to_step, lag.kind, lag.min) == ("set", "start-start", None)
    assert (lag.max.sheet, lag.max.minus_step, lag.max.material) == ("skin_over", "set", "sealant")


def test_the_flap_waits_for_a_tack_free_face_bead():
    lags = {(lag.from_step, lag.to_step): lag for lag in load_method("B1").lags}

    assert lags["face-bead", "flap"].min.sheet == "tack_free"
    assert lags["face-bead", "flap"].kind == "finish-start"


def test_siding_waits_for_an_eighth_of_cured_bead_and_the_water_test_for_twice_that():
    lags = {(lag.from_step, lag.to_step): lag for lag in load_method("B1").lags}

    siding, test = lags["face-bead", "siding"].min, lags["face-bead", "water-test"].min
    assert (siding.sheet, siding.depth) == ("cure_to_depth", Length.inches(Fraction(1, 8)))
    assert test.sheet == "full_cure"
    assert (test.otherwise.sheet, test.otherwise.depth) == ("cure_to_depth", siding.depth + siding.depth)


def test_a_back_bead_is_no_cure_gate():
    for method in load_methods().values():
        waits = [lag for lag in method.lags if lag.from_step == "back-bead"]
        assert all(lag.min is None for lag in waits)


def test_a_face_bead_is_tooled_within_its_tooling_time():
    (step,) = [step for step in load_method("B").steps if step.code == "face-bead"]

    assert step.within.sheet == "tooling_time"


@pytest.mark.parametrize("code", ALL)
def test_nothing_goes_on_before_the_squeeze_out_is_seen(code):
    method = load_method(code)
    (hold,) = [point for point in method.hold_points if point.step == "look"]
    covers = {"corner-patches", "over-fin-strips", "face-bead", "drip-cap", "head-strip", "flap", "wrb-after"}

    waiting = {step.code for step in method.steps if "look" in step.after}

    assert hold.place == "after"
    assert hold.signs == "foreman"
    assert covers & {step.code for step in method.steps} <= waiting
    assert ("jamb-strips" in waiting) == (method.jamb_strips == "over fins")


def test_the_wrb_after_the_window_is_a_handover():
    handed = {c: [p.step for p in m.hold_points if p.place == "before"] for c, m in load_methods().items()}

    assert all("wrb-after" in handed[code] for code in WRB_AFTER)
    assert all("wrb-after" not in handed[code] for code in WRB_BEFORE)


def test_a_cut_opening_is_covered_and_a_flap_never_left_open_overnight():
    for code in ALL:
        rules = {(r.kind, r.opened_by, r.closed_by) for r in load_method(code).night_rules}
        cut = {("cover", "cut-wrb", "set"), ("never", "set", "flap")}
        assert rules == (cut if code in WRB_BEFORE else set())


def test_the_order_of_steps_holds_for_every_choice():
    for code, chosen in every_choice():
        method = load_method(code)
        choices = method.choices(**chosen)
        place = {step.code: number for number, step in enumerate(method.steps_for(choices))}
        assert all(place[first] < place[then] for first, then in step_precedence(method, choices))


def test_a_day_at_the_companys_pace():
    # field guide section 8: ladder x 1.4, lift x 1.2; 2 x 3 ft x 0.75, 6 x 5 ft x 1.5; 5 min a move;
    # 105 of 480 min set-up; three people above 100 lb, a lift above 150
    pace = load_method("B1").pace

    assert {name: float(factor) for name, factor in pace.access} == {"ground": 1, "ladder": 1.4, "lift": 1.2}
    assert [(p.width.in_inches, p.height.in_inches, float(p.factor)) for p in pace.sizes] == [
        (24, 36, 0.75), (36, 60, 1.0), (72, 60, 1.5),
    ]  # fmt: skip
    assert (pace.move, pace.day, pace.set_up) == tuple(map(Duration.minutes, (5, 480, 105)))
    assert (pace.three_above.in_pounds, pace.lift_above.in_pounds) == (100, 150)
