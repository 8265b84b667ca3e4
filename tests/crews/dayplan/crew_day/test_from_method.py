"""A method's steps become minutes, people, waits and closed hours."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from crews.dayplan.crew_day.day import ClockSpan
from crews.dayplan.crew_day.from_method import build_visit, scale
from crews.dayplan.crew_day.visit import Visit, VisitLag
from crews.dayplan.crew_day.weather import DayWeather
from crews.dayplan.problem import LagKind
from openings.methods.load import load_method
from projects.errors import BadValue
from projects.quantities.mass import Mass
from tests.crews.dayplan.crew_day.days import MARCH_2, SHEETS, WORKED, facts, method_visit, quarters, step

SEALED = {"over_fin": "sealed", "fin": "folding", "corners": "open"}
MILD = (15.0, 60.0)


def found(visit, code):
    return next(each for each in visit.steps if each.code == code)


def lag(visit, before, after):
    return next(each for each in visit.lags if (each.before, each.after) == (before, after))


# Source: field guide 8, demo estimates: 81 person-minutes for B1 sealed with all its parts, about 69 for A1.
def test_three_by_five_unit_takes_the_guides_minutes():
    assert method_visit("B1", **SEALED).person_minutes == 81
    assert method_visit("A1", corners="open").person_minutes == 69


# Source: field guide 8: 2 x 3 ft x 0.75, 6 x 5 ft x 1.5, ladder x 1.4, lift x 1.2.
@pytest.mark.parametrize(
    ("width", "height", "access", "factor"),
    [
        (36, 60, "ground", Fraction(1)),
        (24, 36, "ground", Fraction(3, 4)),
        (72, 60, "ground", Fraction(3, 2)),
        (36, 60, "ladder", Fraction(7, 5)),
        (36, 60, "lift", Fraction(6, 5)),
        # Between 864 and 2160 sq in: 3/4 + 1/4 x (1728 - 864) / (2160 - 864) = 11/12.
        (36, 48, "ground", Fraction(11, 12)),
        # Beyond 4320 sq in the slope of the last span goes on: 3/2 + 1/2 x (6480 - 4320) / 2160 = 2.
        (72, 90, "ground", Fraction(2)),
        (12, 12, "ground", Fraction(3, 4)),
    ],
)
def test_work_grows_with_size_and_access(width, height, access, factor):
    pace = load_method("B1").pace

    assert (
        scale(Fraction(16), facts=facts(width=width, height=height, access=access), pace=pace) == 16 * factor
    )


def test_minutes_are_rounded_up():
    # Setting: 16 person-minutes x 1.4 from a ladder / 2 people = 11.2.
    assert found(method_visit("B1", facts(access="ladder")), "set").minutes == 12


def test_access_that_the_pace_does_not_know_is_refused():
    with pytest.raises(BadValue, match="no factor"):
        method_visit("B1", facts(access="rope"))


# Source: field guide 8: setting needs two people, three above 100 lb, a lift above 150.
@pytest.mark.parametrize(("pounds", "people"), [(None, 2), (100, 2), (101, 3)])
def test_heavy_unit_is_set_by_three(pounds, people):
    weight = None if pounds is None else Mass.pounds(pounds)

    set_step = found(method_visit("B1", facts(weight=weight)), "set")

    assert (set_step.people, set_step.minutes) == (people, 8)
    assert set_step.notes == (("Heavy unit: 3 people.",) if people == 3 else ())


def test_unit_above_the_lift_limit_waits_for_a_lift():
    heavy = facts(weight=Mass.pounds(160))

    assert method_visit("B1", heavy).impossible == "It weighs 160 lb: above 150 lb a lift sets it."
    assert method_visit("B1", replace(heavy, has_lift=True)).impossible == ""


def test_steps_of_others_and_what_follows_them_are_for_later():
    visit = method_visit("B")

    assert [each.code for each in visit.later] == ["wrb-after", "siding"]
    assert not {"wrb-after", "siding"} & {each.code for each in visit.steps}


def test_water_test_is_for_another_day():
    # It waits for twice the tooled thickness: four days.
    method = load_method("B1")
    choices = replace(method.choices(over_fin="sealed"), water_test=True)

    visit = build_visit(
        facts(), method=method, choices=choices, weather=DayWeather(MARCH_2, WORKED, None, SHEETS)
    )

    later = {each.code: each.why for each in visit.later}
    assert "Cured 6.35 mm deep 94 h" in later["water-test"]


def test_steps_done_before_are_not_done_again():
    visit = method_visit(
        "B1", facts(done=frozenset({"check", "cut-wrb", "sill-strip", "pan", "jamb-strips"}))
    )

    assert visit.steps[0].code == "unpack"
    assert all({"check", "pan"}.isdisjoint(pair) for pair in visit.order)


def test_primer_waits_by_its_sheet():
    method = load_method("B1")
    choices = replace(method.choices(), primer=True)

    visit = build_visit(
        facts(), method=method, choices=choices, weather=DayWeather(MARCH_2, WORKED, None, SHEETS)
    )

    # Demo sheet, common practice: flash-off 10 min, open for 8 h.
    primed = lag(visit, "primer", "sill-strip")
    assert (primed.minimum, primed.maximum) == (10, 480)


def test_back_beads_limit_is_skin_over_less_setting():
    # Sheet: skin-over 20 min; setting takes 8: the set starts within 12 of the bead's first inch.
    found_lag = lag(method_visit("B1"), "back-bead", "set")

    assert (found_lag.kind, found_lag.minimum, found_lag.maximum) == (LagKind.START_START, None, 12)
    assert "Skin-over 20 min, by the sheet." in found_lag.why


def test_back_bead_is_no_cure_gate():
    # Field guide 9: squeezed behind the fin it cures for weeks; nothing of the day waits for that.
    for code in ("A", "A1", "B", "B1"):
        visit = method_visit(code, fin="folding")
        assert all(each.minimum is None for each in visit.lags if each.before == "back-bead")


def test_flap_waits_longer_in_cold_air():
    # 5 C, 80 %: 60 x 1405.22 / 697.99 = 120.8 min (printed pressures), rounded up.
    cold = quarters((5, 80), (5, 80), (5, 80), (5, 80))

    assert lag(method_visit("B1", **SEALED), "face-bead", "flap").minimum == 60
    assert lag(method_visit("B1", forecast=cold, **SEALED), "face-bead", "flap").minimum == 121


def test_hours_in_which_the_bead_skins_too_soon_are_closed():
    # 31 C, 65 %: saturation about 4495 Pa, so p about 2922 Pa and skin-over 20 x 1405.22 / 2922 = 9.6 min:
    # too short for the set's 8 min and the bead's 4. At 20 C, 60 % (1403 Pa) the sheet's 20 min hold.
    hot_afternoon = quarters((20, 60), (20, 60), (31, 65), (20, 60))

    visit = method_visit("B1", forecast=hot_afternoon)

    closed = [each for each in found(visit, "back-bead").closed if "No time for it" in each.reasons[0]]
    assert closed[0].span.start == 12 * 60
    assert closed[-1].span.end == WORKED.end
    assert lag(visit, "back-bead", "set").maximum == 12
    assert visit.impossible == ""


def test_bead_that_skins_too_soon_all_day_makes_the_opening_impossible():
    # Skin-over 9 min, set 8 and bead 4: 3 short.
    hot = quarters((31, 65), (31, 65), (31, 65), (31, 65))

    assert "At W1 that is 3 min short." in method_visit("B1", forecast=hot).impossible


def test_flap_that_cannot_follow_today_leaves_the_opening():
    # In air of 0.1 % nothing becomes tack-free within a day, and a head flap may not stay open overnight.
    dry = quarters(*[(20.0, 0.1)] * 4)

    visit = method_visit("B1", forecast=dry, **SEALED)

    assert visit.impossible.startswith("A head flap is never left open overnight; lap the head flap down")


def test_rain_closes_the_hours_of_steps_outside():
    wet = quarters(MILD, MILD, MILD, MILD, rain=(False, False, True, False))

    visit = method_visit("B1", forecast=wet)

    assert found(visit, "sill-strip").closed[0].span == ClockSpan(12 * 60, 18 * 60)
    assert found(visit, "sill-strip").closed[0].reasons == ("Rain, and the work is not covered.",)
    assert found(visit, "inside-seal").closed == ()


def test_frost_closes_beads_and_not_butyl():
    # 1 C = 34 F: below the sealant's 40 F, above butyl's 25 F.
    cold = quarters((1, 50), (1, 50), (1, 50), (1, 50))

    visit = method_visit("B1", forecast=cold)

    assert found(visit, "back-bead").closed[0].reasons == ("34 °F is outside the sealant's 40 to 90 °F.",)
    assert found(visit, "sill-strip").closed == ()


def test_face_bead_longer_than_its_tooling_time_is_done_in_parts():
    # 9 person-minutes x 1.5 for 6 x 5 ft = 13.5, so 14 min; the sheet's tooling time is 10.
    visit = method_visit("B1", facts(width=72, height=60), over_fin="sealed")

    assert found(visit, "face-bead").notes == (
        "Do it side by side, each within 10 min. Tooling time 10 min, by the sheet.",
    )


def test_missing_sheet_is_refused():
    method = load_method("B1")

    with pytest.raises(BadValue, match="no sheet for sealant"):
        build_visit(
            facts(), method=method, choices=method.choices(), weather=DayWeather(MARCH_2, WORKED, sheets={})
        )


def test_every_method_can_be_planned_with_every_over_fin_detail():
    for code in ("A", "A1", "B", "B1"):
        for over_fin in load_method(code).over_fin_allowed:
            visit = method_visit(code, over_fin=over_fin, fin="folding", corners="open", drip_cap=True)
            assert visit.impossible == ""


@pytest.mark.parametrize(
    "wrong",
    [
        {"steps": (step("a", 1), step("a", 1))},
        {"steps": (step("a", 1),), "order": (("a", "b"),)},
        {"steps": (step("a", 1),), "lags": (VisitLag("b", "a", LagKind.START_START, "why"),)},
    ],
)
def test_visit_that_names_no_step_is_refused(wrong):
    with pytest.raises(BadValue):
        Visit("H", "F", "W", **wrong)
