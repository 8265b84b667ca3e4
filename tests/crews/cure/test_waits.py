"""Waits and limits are on the safe side of sheet and weather."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crews.cure.air import REFERENCE_AIR, Air
from crews.cure.forecast import Forecast, Hour
from crews.cure.sheet import ASPHALTIC, BUTYL, DEMO_SEALANT, PrimerSheet, SealantSheet, Stated, between
from crews.cure.waits import NEVER, SheetValue, Weather, at_least, at_most, in_words
from projects.errors import BadValue
from projects.quantities.duration import Duration, Temperature
from projects.quantities.length import Length

SEVEN = datetime(2026, 3, 2, 7)
COLD = Air(temp_c=5, rh=80)
HOT = Air(temp_c=35, rh=70)


BY_SHEET = Weather(None, SEVEN)
TOOLED = Length.mm(3.2)


def steady(air, hours=240):
    return Weather(Forecast(tuple(Hour(SEVEN + timedelta(hours=step), air) for step in range(hours))), SEVEN)


def minutes(value):
    return Duration(value * 60)


def test_without_a_forecast_the_sheet_holds():
    # Demo defaults, common practice: skin-over 30, tooling 10, tack-free 60 min, 3.2 mm after 24 h.
    assert at_most(SheetValue.SKIN_OVER, DEMO_SEALANT, weather=BY_SHEET).duration == minutes(30)
    assert at_most(SheetValue.TOOLING_TIME, DEMO_SEALANT, weather=BY_SHEET).duration == minutes(10)
    assert at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=BY_SHEET).duration == minutes(60)
    assert at_least(
        SheetValue.CURE_TO_DEPTH, DEMO_SEALANT, weather=BY_SHEET, depth=TOOLED
    ).duration == Duration.hours(24)


def test_cold_air_lengthens_the_tack_free_wait():
    # Printed pressures 1405.22 / 697.99 Pa = 2.01324, so 60 min become 120.79 min = 7247.7 s, rounded up.
    wait = at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=steady(COLD))

    assert wait.duration.seconds == pytest.approx(7248, abs=1)
    assert wait.why == "Tack-free 2 h 1 min at 41 °F and 80 %; 1 h by the sheet."


def test_cold_air_never_lengthens_the_skin_over_limit():
    assert at_most(SheetValue.SKIN_OVER, DEMO_SEALANT, weather=steady(COLD)).duration == minutes(30)


def test_hot_damp_air_shortens_skin_over_and_tooling():
    # Printed pressures 1405.22 / 3939.47 Pa = 0.356703: 30 min become 642.07 s, 10 min 214.02 s.
    skin = at_most(SheetValue.SKIN_OVER, DEMO_SEALANT, weather=steady(HOT))
    tooling = at_most(SheetValue.TOOLING_TIME, DEMO_SEALANT, weather=steady(HOT))

    assert (skin.duration.seconds, tooling.duration.seconds) == (642, 214)


def test_hot_damp_air_never_shortens_a_wait():
    assert at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=steady(HOT)).duration == minutes(60)
    assert at_least(
        SheetValue.CURE_TO_DEPTH, DEMO_SEALANT, weather=steady(HOT), depth=TOOLED
    ).duration == Duration.hours(24)


def test_weather_that_turns_cold_counts_from_its_hour():
    # Half an hour at the sheet's air does half of the 60 min; the other half takes 30 x 2.01324 = 60.40 min.
    forecast = Forecast(
        (
            Hour(SEVEN, REFERENCE_AIR),
            Hour(SEVEN + timedelta(minutes=30), COLD),
            Hour(SEVEN + timedelta(hours=9), COLD),
        )
    )

    wait = at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=Weather(forecast, SEVEN))

    assert wait.duration.in_minutes == pytest.approx(90.40, abs=0.02)


def test_beyond_its_end_the_forecast_keeps_its_last_air():
    short, long = steady(COLD, hours=1), steady(COLD, hours=240)

    assert (
        at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=short).duration
        == at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=long).duration
    )


def test_dry_air_makes_a_wait_without_end():
    wait = at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=steady(Air(temp_c=5, rh=0)))

    assert wait.duration == NEVER
    assert "without end" in wait.why


def test_thicker_bead_waits_with_the_square():
    # Twice the depth of a day: four days.
    wait = at_least(SheetValue.CURE_TO_DEPTH, DEMO_SEALANT, weather=BY_SHEET, depth=Length.mm(6.4))

    assert wait.duration == Duration.hours(96)


def test_primer_waits_and_closes_by_its_sheet():
    primer = PrimerSheet(flash_off=Stated(minutes(15)), open_time=Stated(minutes(120)))

    assert at_least(SheetValue.FLASH_OFF, primer, weather=BY_SHEET).duration == minutes(15)
    assert at_most(SheetValue.OPEN_TIME, primer, weather=BY_SHEET).duration == minutes(120)


def test_primer_does_not_live_on_the_airs_water():
    assert at_least(SheetValue.FLASH_OFF, PrimerSheet(), weather=steady(COLD)).why == (
        "Primer's flash-off 10 min, by the sheet."
    )


def test_full_cure_is_the_makers_or_unknown():
    sheet = SealantSheet(full_cure=Stated(Duration.hours(168)))

    assert at_least(SheetValue.FULL_CURE, DEMO_SEALANT, weather=BY_SHEET) is None
    assert at_least(SheetValue.FULL_CURE, sheet, weather=BY_SHEET).duration == Duration.hours(168)


@pytest.mark.parametrize("value", list(SheetValue))
def test_membranes_sheet_states_no_times(value):
    assert at_least(value, ASPHALTIC, weather=BY_SHEET, depth=TOOLED) is None
    assert at_most(value, ASPHALTIC, weather=BY_SHEET, depth=TOOLED) is None


@pytest.mark.parametrize(
    ("minutes_long", "words"), [(0, "0 min"), (59, "59 min"), (60, "1 h"), (61, "1 h 1 min"), (120, "2 h")]
)
def test_durations_are_told_as_people_say_them(minutes_long, words):
    assert in_words(minutes(minutes_long)) == words


def test_butyl_may_be_applied_colder_than_asphaltic():
    assert BUTYL.warmth.coldest.value == Temperature.fahrenheit(25)
    assert ASPHALTIC.warmth.coldest.value == Temperature.fahrenheit(40)


@pytest.mark.parametrize(
    "change",
    [
        {"skin_over": Stated(Duration(0))},
        {"tooling_time": Stated(Duration(-60))},
        {"tack_free": Stated(Duration(0))},
        {"depth_per_day": Stated(Length(0))},
    ],
)
def test_sealant_sheet_that_cannot_be_is_refused(change):
    with pytest.raises(BadValue):
        SealantSheet(**change)


def test_primer_that_closes_before_its_flash_off_is_refused():
    with pytest.raises(BadValue, match="closes before"):
        PrimerSheet(flash_off=Stated(minutes(30)), open_time=Stated(minutes(30)))


def test_material_that_is_never_warm_enough_is_refused():
    with pytest.raises(BadValue, match="lowest temperature"):
        between(90, 90)


@pytest.mark.parametrize(("grade", "source"), [("X", "a sheet"), ("C", " ")])
def test_value_without_grade_or_source_is_refused(grade, source):
    with pytest.raises(BadValue):
        Stated(1, grade, source)


@given(temp_c=st.floats(-20, 45), rh=st.floats(0, 100))
def test_weather_moves_limits_down_and_waits_up_only(temp_c, rh):
    forecast = steady(Air(temp_c=temp_c, rh=rh), hours=12)

    assert at_most(SheetValue.SKIN_OVER, DEMO_SEALANT, weather=forecast).duration <= minutes(30)
    assert at_most(SheetValue.TOOLING_TIME, DEMO_SEALANT, weather=forecast).duration <= minutes(10)
    assert at_least(SheetValue.TACK_FREE, DEMO_SEALANT, weather=forecast).duration >= minutes(60)
    assert at_least(
        SheetValue.CURE_TO_DEPTH, DEMO_SEALANT, weather=forecast, depth=TOOLED
    ).duration >= Duration.hours(24)
