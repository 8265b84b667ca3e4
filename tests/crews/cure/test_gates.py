"""When the weather lets a step go on, and why not."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import pytest

from crews.cure.air import Air
from crews.cure.forecast import Forecast, Hour
from crews.cure.gates import Conditions, Daylight, Gate, WorkLimits, above_dew_point_f, gate_spans
from crews.cure.sheet import ASPHALTIC, BUTYL, DEMO_SEALANT

SEVEN = datetime(2026, 3, 2, 7)
MILD = Air(temp_c=15, rh=50)
LIMITS = WorkLimits()


def hours(*rows):
    return Forecast(tuple(Hour(SEVEN + timedelta(hours=step), *row) for step, row in enumerate(rows)))


def one_hour(air=MILD, **weather):
    return Forecast((Hour(SEVEN, air, **weather),))


def asks(*gates, sheets=(), is_large=False):
    return Conditions(frozenset(gates), tuple(sheets), is_large)


def reasons(conditions, forecast, limits=LIMITS):
    return gate_spans(conditions, forecast=forecast, limits=limits)[0].reasons


def test_mild_dry_still_hour_is_open_for_everything():
    everything = asks(*Gate, sheets=[DEMO_SEALANT, ASPHALTIC], is_large=True)

    spans = gate_spans(everything, forecast=one_hour(), limits=LIMITS)

    assert [(span.start, span.end, span.is_open) for span in spans] == [
        (SEVEN, SEVEN + timedelta(hours=1), True)
    ]


def test_sealant_is_not_run_below_forty_fahrenheit():
    bead = asks(Gate.TEMPERATURE, sheets=[DEMO_SEALANT])

    # 40 F = 4.444 C: 4.4 C is below, 4.5 C above.
    assert reasons(bead, one_hour(Air(temp_c=4.4, rh=50))) == ("40 °F is outside the sealant's 40 to 90 °F.",)
    assert reasons(bead, one_hour(Air(temp_c=4.5, rh=50))) == ()


def test_sealant_is_not_run_above_ninety_fahrenheit():
    bead = asks(Gate.TEMPERATURE, sheets=[DEMO_SEALANT])

    # 90 F = 32.222 C.
    assert reasons(bead, one_hour(Air(temp_c=32.3, rh=30))) != ()
    assert reasons(bead, one_hour(Air(temp_c=32.2, rh=30))) == ()


def test_butyl_membrane_goes_on_where_asphaltic_does_not():
    # 0 C = 32 F lies between butyl's 25 F and asphaltic's 40 F.
    freezing = one_hour(Air(temp_c=0, rh=50))

    assert reasons(asks(Gate.TEMPERATURE, sheets=[ASPHALTIC]), freezing) != ()
    assert reasons(asks(Gate.TEMPERATURE, sheets=[BUTYL]), freezing) == ()


def test_step_without_the_temperature_gate_goes_on_in_frost():
    assert reasons(asks(Gate.RAIN, sheets=[DEMO_SEALANT]), one_hour(Air(temp_c=-5, rh=50))) == ()


def test_surface_within_five_fahrenheit_of_dew_is_too_wet():
    # Printed dew points: 10 C at 90 % 8.437 C, so 1.563 K = 2.8 F above; 15 C at 60 % 7.307 C: 13.8 F.
    strip = asks(Gate.DEW_POINT)

    assert reasons(strip, one_hour(Air(temp_c=10, rh=90))) == (
        "Surface 2.8 °F above the dew point; below 5 °F it may be wet.",
    )
    assert reasons(strip, one_hour(Air(temp_c=15, rh=60))) == ()
    assert reasons(strip, one_hour(Air(temp_c=15, rh=0))) == ()


def test_margin_above_dew_is_the_difference_to_the_dew_point():
    # 20 C at 80 %: printed dew point 16.447 C, (20 - 16.447) x 9/5 = 6.395 F.
    assert above_dew_point_f(Hour(SEVEN, Air(temp_c=20, rh=80))) == pytest.approx(6.395, abs=0.005)


@pytest.mark.parametrize("gate", [Gate.RAIN, Gate.DRY])
def test_rain_stops_uncovered_work_outside(gate):
    wet = one_hour(rain=True)

    assert reasons(asks(gate), wet) == ("Rain, and the work is not covered.",)
    assert reasons(asks(gate), wet, WorkLimits(covered=True)) == ()
    assert reasons(asks(Gate.TEMPERATURE), wet) == ()


def test_wall_dries_for_an_hour_after_rain():
    # Rain until nine; default estimate: dry an hour later. Rows of two hours are cut at ten.
    forecast = Forecast(
        (
            Hour(SEVEN, MILD, rain=True),
            Hour(SEVEN + timedelta(hours=2), MILD),
            Hour(SEVEN + timedelta(hours=4), MILD),
        )
    )

    dry = gate_spans(asks(Gate.DRY), forecast=forecast, limits=LIMITS)
    rain = gate_spans(asks(Gate.RAIN), forecast=forecast, limits=LIMITS)

    assert [(span.start.hour, span.reasons) for span in dry] == [
        (7, ("Rain, and the work is not covered.",)),
        (9, ("The wall is still wet from rain.",)),
        (10, ()),
    ]
    assert [(span.start.hour, span.is_open) for span in rain] == [(7, False), (9, True)]


def test_wind_stops_only_large_units():
    # The limit is 25 mph, itself still allowed.
    large, small = asks(Gate.WIND, is_large=True), asks(Gate.WIND)

    assert reasons(large, one_hour(wind_mph=26)) == ("Wind 26 mph, above 25 mph for large units.",)
    assert reasons(large, one_hour(wind_mph=25)) == ()
    assert reasons(small, one_hour(wind_mph=26)) == ()


def test_every_reason_is_named():
    bead = asks(Gate.TEMPERATURE, Gate.DEW_POINT, Gate.RAIN, sheets=[DEMO_SEALANT])

    assert len(reasons(bead, one_hour(Air(temp_c=2, rh=95), rain=True))) == 3


def test_gate_opens_and_shuts_with_the_rows():
    forecast = hours((Air(temp_c=0, rh=50),), (MILD,), (MILD,), (MILD, True))

    spans = gate_spans(
        asks(Gate.TEMPERATURE, Gate.RAIN, sheets=[DEMO_SEALANT]), forecast=forecast, limits=LIMITS
    )

    assert [(span.start.hour, span.is_open) for span in spans] == [(7, False), (8, True), (10, False)]


def test_daylight_cuts_an_hour_where_it_begins():
    limits = WorkLimits(daylight=Daylight(time(7, 20), time(18)))

    spans = gate_spans(asks(Gate.DAYLIGHT), forecast=one_hour(), limits=limits)

    assert [(span.start.minute, span.reasons) for span in spans] == [(0, ("Too dark to work.",)), (20, ())]
