"""`manage.py cure` as the published interface has it."""

from __future__ import annotations

import io
import json

import pytest
from django.core.management import call_command

AT_REFERENCE = {"depth": "3.2", "ref_depth": "3.2", "temp_c": "23", "rh": "50"}


def run(**options):
    out = io.StringIO()
    try:
        call_command("cure", json=True, stdout=out, **options)
    except SystemExit as left:
        return json.loads(out.getvalue()), left.code
    return json.loads(out.getvalue()), 0


@pytest.fixture
def forecast(tmp_path):
    def write(text):
        path = tmp_path / "forecast.csv"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def test_answer_has_the_published_keys():
    document, code = run(**AT_REFERENCE)

    assert code == 0
    assert list(document) == [
        "hours",
        "reached",
        "vapour_pressure_pa",
        "dew_point_c",
        "trace",
        "problems",
        "notices",
    ]


def test_sheet_depth_in_its_own_air_takes_a_day():
    document, _ = run(**AT_REFERENCE)

    # Printed pressure and dew point of 23 C, 50 % (facts.md 6).
    assert document["hours"] == 24
    assert document["reached"] is True
    assert document["vapour_pressure_pa"] == pytest.approx(1405.22, abs=0.006)
    assert document["dew_point_c"] == pytest.approx(12.028, abs=0.001)
    assert [point["time"] for point in document["trace"]] == list(range(25))


def test_two_open_sides_take_a_quarter():
    document, _ = run(**AT_REFERENCE, sides="2")

    assert document["hours"] == 6
    assert document["trace"][-1]["depth_mm"] == 1.6


def test_temperature_below_zero_is_taken_as_a_value(capsys):
    call_command("cure", "--depth", "1", "--ref-depth", "3", "--temp-c", "-10", "--rh", "100", "--json")

    # Over ice: 259.90 Pa at -10 C (facts.md 6).
    document = json.loads(capsys.readouterr().out)
    assert document["vapour_pressure_pa"] == pytest.approx(259.90, abs=0.006)


def test_dry_air_is_an_answer_without_hours():
    document, code = run(depth="3", ref_depth="3", temp_c="20", rh="0")

    assert code == 0
    assert (document["hours"], document["reached"], document["dew_point_c"]) == (None, False, None)
    assert document["vapour_pressure_pa"] == 0


def test_forecast_that_ends_too_soon_is_an_answer(forecast):
    path = forecast("time,temp_c,rh\n2026-03-02T07:00,23,50\n2026-03-02T08:00,23,50\n")

    document, code = run(depth="3.2", ref_depth="3.2", forecast=path, start="2026-03-02T07:00")

    assert code == 0
    assert (document["hours"], document["reached"]) == (None, False)
    assert [point["time"] for point in document["trace"]] == ["2026-03-02T07:00", "2026-03-02T08:00"]


def test_pressure_is_that_at_the_start(forecast):
    path = forecast("time,temp_c,rh\n2026-03-02T07:00,23,50\n2026-03-02T08:00,5,80\n2026-03-03T08:00,5,80\n")

    document, _ = run(depth="1", ref_depth="3.2", forecast=path, start="2026-03-02T08:30")

    # 5 C, 80 %: 697.99 Pa printed; 24 h x (1/3.2)^2 = 2.34375 h, x 1405.22 / 697.99 = 4.71853 h.
    assert document["vapour_pressure_pa"] == pytest.approx(697.99, abs=0.006)
    assert document["hours"] == pytest.approx(4.71853, abs=1e-4)


@pytest.mark.parametrize("start", ["2026-03-02T06:59", "noon"])
def test_start_before_the_forecast_is_refused(forecast, start):
    path = forecast("time,temp_c,rh\n2026-03-02T07:00,23,50\n2026-03-02T08:00,23,50\n")

    document, code = run(depth="1", ref_depth="3", forecast=path, start=start)

    assert code == 1
    assert len(document["problems"]) == 1
    assert "hours" not in document


@pytest.mark.parametrize("start", ["2026-03-02T09:00", "2026-04-01T07:00"])
def test_forecast_that_ends_before_the_start_ends_too_soon(forecast, start):
    path = forecast("time,temp_c,rh\n2026-03-02T07:00,23,50\n2026-03-02T08:00,23,50\n")

    document, code = run(depth="1", ref_depth="3", forecast=path, start=start)

    # the last row holds as long as the one before it: until 09:00
    assert (code, document["problems"]) == (0, [])
    assert (document["hours"], document["reached"]) == (None, False)
    assert (document["vapour_pressure_pa"], document["dew_point_c"]) == (None, None)
    assert [point["depth_mm"] for point in document["trace"]] == [0, 0]


def test_bad_rows_are_refused_with_their_numbers(forecast):
    path = forecast("time,temp_c,rh\n2026-03-02T07:00,23,50\n2026-03-02T08:00,23,500\n")

    document, code = run(depth="1", ref_depth="3", forecast=path, start="2026-03-02T07:00")

    assert code == 1
    assert document["problems"][0]["row"] == 3
    assert document["problems"][0]["column"] == "rh"


def test_missing_forecast_file_is_refused():
    document, code = run(depth="1", ref_depth="3", forecast="/nowhere/forecast.csv", start="2026-03-02T07:00")

    assert code == 1
    assert document["problems"][0]["remedy"]


@pytest.mark.parametrize(
    "change",
    [{"depth": "x"}, {"depth": "-1"}, {"ref_depth": "0"}, {"sides": "3"}, {"temp_c": "500"}, {"rh": "101"}],
)
def test_bad_value_is_refused(change):
    document, code = run(**{**AT_REFERENCE, **change})

    assert code == 1
    assert len(document["problems"]) == 1


@pytest.mark.parametrize(
    "options",
    [
        {"temp_c": "5"},
        {"temp_c": "5", "rh": "50", "forecast": "f.csv", "start": "2026-03-02T07:00"},
        {"forecast": "f.csv"},
        {},
    ],
)
def test_mixed_kinds_of_air_are_wrong_usage(options):
    _, code = run(depth="1", ref_depth="3", **options)

    assert code == 2


def test_humidity_below_one_percent_is_noticed():
    document, code = run(depth="1", ref_depth="3", temp_c="20", rh="0.5")

    assert code == 0
    assert "0.5 %" in document["notices"][0]


def test_answer_for_people_is_a_few_lines(capsys):
    call_command("cure", "--depth", "3.2", "--ref-depth", "3.2", "--temp-c", "23", "--rh", "50")

    assert capsys.readouterr().out.splitlines() == [
        "Through after 24.0 h.",
        "Vapour pressure at the start 1405 Pa, dew point 12.0 °C.",
    ]
