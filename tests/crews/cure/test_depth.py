"""The cure law over rows of weather."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crews.cure.air import REFERENCE_AIR, Air, cure_speed
from crews.cure.depth import CuringBead, cure_in_steady_air, cure_over_forecast
from crews.cure.forecast import Forecast, Hour
from projects.errors import BadValue

SEVEN = datetime(2026, 3, 2, 7)
DRY = Air(temp_c=10, rh=0)


def hourly(*airs):
    return Forecast(tuple(Hour(SEVEN + timedelta(hours=step), air) for step, air in enumerate(airs)))


def test_depth_of_the_sheet_takes_a_day_in_its_own_air():
    assert cure_in_steady_air(CuringBead(3.2, 3.2), REFERENCE_AIR).hours == 24


def test_forecast_of_steady_air_answers_as_steady_air():
    bead = CuringBead(3.0, 3.2)
    air = Air(temp_c=12, rh=70)

    over_rows = cure_over_forecast(bead, forecast=hourly(*[air] * 100), start=SEVEN)

    assert over_rows.hours == pytest.approx(cure_in_steady_air(bead, air).hours, rel=1e-12)


def test_dry_hours_add_nothing_and_only_delay():
    # 1.6 of 3.2 mm need a quarter of a day's exposure: 6 h. Three dry hours in between: through after 9.
    forecast = hourly(*[REFERENCE_AIR] * 3, *[DRY] * 3, *[REFERENCE_AIR] * 6)

    cure = cure_over_forecast(CuringBead(1.6, 3.2), forecast=forecast, start=SEVEN)

    assert cure.hours == 9


def test_start_within_a_row_counts_the_rest_of_it():
    # 0.8 of 3.2 mm need a sixteenth of a day: 1.5 h; the bead is run at 7:30.
    cure = cure_over_forecast(
        CuringBead(0.8, 3.2), forecast=hourly(*[REFERENCE_AIR] * 4), start=SEVEN + timedelta(minutes=30)
    )

    assert cure.hours == 1.5


def test_forecast_that_ends_too_soon_reaches_nothing():
    cure = cure_over_forecast(CuringBead(3.2, 3.2), forecast=hourly(*[REFERENCE_AIR] * 23), start=SEVEN)

    assert not cure.is_reached
    assert cure.hours is None


def test_dry_air_never_reaches_a_depth():
    cure = cure_in_steady_air(CuringBead(1, 3), DRY)

    assert cure.hours is None
    assert cure.dew_point_c is None


def test_no_depth_is_reached_at_once_even_in_dry_air():
    assert cure_in_steady_air(CuringBead(0, 3), DRY).hours == 0


def test_trace_over_a_forecast_has_a_point_per_row():
    # Depth 3.2 mm a day: after 1.5 h 3.2 x sqrt(1.5/24) = 0.8 mm, after 6 h 1.6 mm, stopped where through.
    forecast = Forecast(
        (
            Hour(SEVEN, REFERENCE_AIR),
            Hour(SEVEN + timedelta(hours=2), REFERENCE_AIR),
            Hour(SEVEN + timedelta(hours=6, minutes=30), REFERENCE_AIR),
            Hour(SEVEN + timedelta(hours=12), REFERENCE_AIR),
        )
    )

    trace = cure_over_forecast(
        CuringBead(1.7, 3.2), forecast=forecast, start=SEVEN + timedelta(minutes=30)
    ).trace

    assert [point.time for point in trace] == [hour.start for hour in forecast.hours]
    assert [point.depth_mm for point in trace] == pytest.approx([0, 0.8, 1.6, 1.7], rel=1e-12)


def test_trace_in_steady_air_has_a_point_per_hour():
    # 0.8 mm need 1.5 h: points at 0, 1 and 2 h, the last where the bead is through.
    trace = cure_in_steady_air(CuringBead(0.8, 3.2), REFERENCE_AIR).trace

    assert [point.time for point in trace] == [0, 1, 2]
    assert trace[-1].depth_mm == 0.8


def test_two_fronts_go_half_way_each():
    trace = cure_in_steady_air(CuringBead(3.2, 3.2, 2), REFERENCE_AIR).trace

    assert trace[-1].depth_mm == 1.6


def test_trace_in_nearly_dry_air_stops_after_a_year():
    assert len(cure_in_steady_air(CuringBead(10, 1), Air(temp_c=0, rh=0.001)).trace) == 8785


@pytest.mark.parametrize(
    ("depth", "ref", "sides"),
    [(-1, 3, 1), (float("inf"), 3, 1), (1, 0, 1), (1, -3, 1), (1, float("nan"), 1), (1, 3, 0), (1, 3, 3)],
)
def test_bead_that_cannot_be_is_refused(depth, ref, sides):
    with pytest.raises(BadValue):
        CuringBead(depth, ref, sides)


airs = st.builds(Air, temp_c=st.floats(-20, 40), rh=st.floats(5, 100))


@given(rows=st.lists(airs, min_size=2, max_size=40), extra=st.floats(0, 15))
def test_more_humidity_in_every_row_never_cures_slower(rows, extra):
    bead = CuringBead(0.5, 3.2)
    damper = [Air(temp_c=air.temp_c, rh=min(100, air.rh + extra)) for air in rows]

    plain = cure_over_forecast(bead, forecast=hourly(*rows), start=SEVEN)
    damp = cure_over_forecast(bead, forecast=hourly(*damper), start=SEVEN)

    assert not plain.is_reached or (damp.is_reached and damp.hours <= plain.hours * (1 + 1e-12))


@given(rows=st.lists(airs, min_size=2, max_size=40))
def test_depth_in_the_trace_never_goes_back(rows):
    trace = cure_over_forecast(CuringBead(3, 3.2), forecast=hourly(*rows), start=SEVEN).trace

    depths = [point.depth_mm for point in trace]
    assert depths == sorted(depths)


@given(rows=st.lists(airs, min_size=1, max_size=20))
def test_exposure_is_the_sum_over_the_rows(rows):
    # With as much exposure as all rows give but the last, the bead is through when the last one begins.
    needed = sum(cure_speed(air) for air in rows)
    bead = CuringBead(3.2 * (needed / 24) ** 0.5, 3.2)

    cure = cure_over_forecast(bead, forecast=hourly(*rows, REFERENCE_AIR), start=SEVEN)

    assert cure.hours == pytest.approx(len(rows), abs=1e-6)
