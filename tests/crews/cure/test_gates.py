"""When the weather lets work go on, and why not."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import pytest

from crews.cure.air import Air
from crews.cure.forecast import Forecast, Hour
from crews.cure.gates import Daylight, Work, WorkLimits, above_dew_point_f, gate_spans
from crews.cure.sheet import BUTYL

SEVEN = datetime(2026, 3, 2, 7)
MILD = Air(temp_c=15, rh=50)
LIMITS = WorkLimits()


def one_hour(air=MILD, **weather):
    return Forecast((Hour(SEVEN, air, **weather),))


def reasons(work, forecast, limits=LIMITS):
    return gate_spans([work], forecast=forecast, limits=limits)[0].reasons


@pytest.mark.parametrize("work", list(Work))
def test_mild_dry_still_hour_is_open_for_everything(work):
    spans = gate_spans([work], forecast=one_hour(), limits=LIMITS)

    assert [(span.start, span.end, span.is_open) for span in spans] == [
        (SEVEN, SEVEN + timedelta(hours=1), True)
    ]


def test_sealant_is_not_run_below_forty_fahrenheit():
    # 40 F = 4.444 C: 4.4 C is below, 4.5 C above.
    assert reasons(Work.SEALANT, one_hour(Air(temp_c=4.4, rh=50))) == (
        "40 °F is outside the sealant's 40 to 90 °F.",
    )
    assert reasons(Work.SEALANT, one_hour(Air(temp_c=4.5, rh=50))) == ()


def test_sealant_is_not_run_above_ninety_fahrenheit():
    # 90 F = 32.222 C.
    assert reasons(Work.SEALANT, one_hour(Air(temp_c=32.3, rh=30))) != ()
    assert reasons(Work.SEALANT, one_hour(Air(temp_c=32.2, rh=30))) == ()


def test_butyl_membrane_goes_on_where_asphaltic_does_not():
    # 0 C = 32 F lies between butyl's 25 F and asphaltic's 40 F.
    freezing = one_hour(Air(temp_c=0, rh=50))

    assert reasons(Work.MEMBRANE, freezing) != ()
    assert reasons(Work.MEMBRANE, freezing, WorkLimits(membrane=BUTYL)) == ()


def test_surface_within_five_fahrenheit_of_dew_is_too_wet():
    # Printed dew points: 10 C at 90 % 8.437 C, so 1.563 K = 2.8 F above; 15 C at 60 % 7.307 C: 13.8 F.
    damp = one_hour(Air(temp_c=10, rh=90))

    assert reasons(Work.SEALANT, damp) == ("Surface 2.8 °F above the dew point; below 5 °F it may be wet.",)
    assert reasons(Work.MEMBRANE, damp) != ()
    assert reasons(Work.MEMBRANE, one_hour(Air(temp_c=15, rh=60))) == ()


def test_margin_above_dew_is_the_difference_to_the_dew_point():
    # 20 C at 80 %: printed dew point 16.447 C, (20 - 16.447) x 9/5 = 6.395 F.
    assert above_dew_point_f(Hour(SEVEN, Air(temp_c=20, rh=80))) == pytest.approx(6.395, abs=0.005)


def test_rain_stops_uncovered_work_outside():
    wet = one_hour(rain=True)

    assert reasons(Work.OUTSIDE, wet) == ("Rain, and the work is not covered.",)
    assert reasons(Work.OUTSIDE, wet, WorkLimits(covered=True)) == ()
    assert reasons(Work.INSIDE, wet) == ()


def test_wind_stops_only_large_units():
    # The limit is 25 mph, itself still allowed.
    assert reasons(Work.LARGE_UNIT, one_hour(wind_mph=26)) == (
        "Wind 26 mph, above 25 mph for setting large units.",
    )
    assert reasons(Work.LARGE_UNIT, one_hour(wind_mph=25)) == ()
    assert reasons(Work.OUTSIDE, one_hour(wind_mph=26)) == ()


def test_every_reason_is_named():
    found = reasons(Work.SEALANT, one_hour(Air(temp_c=2, rh=95), rain=True))

    assert len(found) == 3


def test_gate_opens_and_shuts_with_the_rows():
    forecast = Forecast(
        (
            Hour(SEVEN, Air(temp_c=0, rh=50)),
            Hour(SEVEN + timedelta(hours=2), MILD),
            Hour(SEVEN + timedelta(hours=3), MILD),
            Hour(SEVEN + timedelta(hours=4), MILD, rain=True),
        )
    )

    spans = gate_spans([Work.SEALANT], forecast=forecast, limits=LIMITS)

    hours = [((span.start - SEVEN).seconds // 3600, span.is_open) for span in spans]
    assert hours == [(0, False), (2, True), (4, False)]


def test_daylight_cuts_an_hour_where_it_begins():
    limits = WorkLimits(daylight=Daylight(time(7, 20), time(18)))

    spans = gate_spans([Work.OUTSIDE], forecast=one_hour(), limits=limits)

    assert [(span.start.minute, span.reasons) for span in spans] == [
        (0, ("Too dark to work outside.",)),
        (20, ()),
    ]


def test_step_with_two_kinds_of_work_needs_both_gates():
    forecast = one_hour(Air(temp_c=35, rh=20), wind_mph=30)

    found = gate_spans([Work.SEALANT, Work.LARGE_UNIT], forecast=forecast, limits=LIMITS)

    assert len(found[0].reasons) == 2
