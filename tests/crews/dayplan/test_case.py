"""Case files as people write them."""

from __future__ import annotations

import json

import pytest

from crews.dayplan.case import read_case
from crews.dayplan.problem import LagKind, Window


def read(**document):
    return read_case(json.dumps(document))


def test_case_becomes_its_problem():
    case = read(
        resources={"people": 3, "ladder": 1},
        tasks=[
            {"name": "W1 set", "minutes": 12, "uses": {"people": 2}, "windows": [[0, 240], [300, 540]]},
            {"name": "W1 back bead", "minutes": 4},
        ],
        lags=[{"from": "W1 back bead", "to": "W1 set", "kind": "finish-start", "min": 0, "max": 10}],
    )

    first, second = case.problem.tasks
    (lag,) = case.problem.lags
    assert [(each.name, each.capacity) for each in case.problem.resources] == [("people", 3), ("ladder", 1)]
    assert (first.minutes, first.uses) == (12, (("people", 2),))
    assert first.windows == (Window(0, 240), Window(300, 540))
    assert (second.uses, second.windows) == ((), None)
    assert (lag.kind, lag.minimum, lag.maximum) == (LagKind.FINISH_START, 0, 10)


def test_missing_limit_of_a_lag_is_no_limit():
    case = read(tasks=[{"name": "a", "minutes": 1}], lags=[{"from": "a", "to": "a", "kind": "start-start"}])

    assert (case.problem.lags[0].minimum, case.problem.lags[0].maximum) == (None, None)


def test_fractions_of_a_minute_are_counted_in_ticks():
    # 7.5 and 0.2 min: thirds of nothing, tenths of all: 10 ticks a minute, 75 and 2 ticks.
    case = read(tasks=[{"name": "a", "minutes": 7.5}, {"name": "b", "minutes": 0.2}])

    assert case.ticks == 10
    assert [task.minutes for task in case.problem.tasks] == [75, 2]
    assert (case.minutes(75), case.minutes(20)) == (7.5, 2)
    assert isinstance(case.minutes(20), int)


def test_halves_of_a_resource_are_counted_in_parts():
    case = read(resources={"crane": 1.5}, tasks=[{"name": "a", "minutes": 1, "uses": {"crane": 0.5}}])

    assert case.problem.resources[0].capacity == 3
    assert case.problem.tasks[0].uses == (("crane", 1),)


def test_decimals_beyond_the_sixth_are_rounded_and_said():
    case = read(tasks=[{"name": "a", "minutes": 7.300000000000001}])

    assert case.minutes(case.problem.tasks[0].minutes) == 7.3
    assert case.notices == ("Numbers with more than six decimals are rounded to six.",)


def test_empty_list_of_windows_is_no_limit_and_said():
    case = read(tasks=[{"name": "a", "minutes": 1, "windows": []}])

    assert case.problem.tasks[0].windows is None
    assert "empty list of windows" in case.notices[0]


def test_unknown_keys_are_ignored():
    case = read(tasks=[{"name": "a", "minutes": 1, "colour": "red"}], best=55)

    assert case.refusals == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "not JSON"),
        ("{", "not JSON"),
        ("[]", "no tasks"),
        ("{}", "no tasks"),
        ('{"tasks": null}', "no tasks"),
        ('{"tasks": {}}', "tasks is no list"),
        ('{"tasks": [7]}', "tasks, number 1, is no object"),
        ('{"tasks": [{"minutes": 1}]}', "name is missing"),
        ('{"tasks": [{"name": 7, "minutes": 1}]}', "name is missing or no text"),
        ('{"tasks": [{"name": "a"}]}', "minutes is missing"),
        ('{"tasks": [{"name": "a", "minutes": "5"}]}', "not a number"),
        ('{"tasks": [{"name": "a", "minutes": true}]}', "not a number"),
        ('{"tasks": [{"name": "a", "minutes": NaN}]}', "not a number"),
        ('{"tasks": [{"name": "a", "minutes": Infinity}]}', "not a number"),
        ('{"tasks": [{"name": "a", "minutes": 1e999}]}', "not a number"),
        ('{"tasks": [{"name": "a", "minutes": 10000001}]}', "not a number"),
        ('{"tasks": [{"name": "a", "minutes": -1}]}', "less than no time"),
        ('{"tasks": [{"name": "a", "minutes": 1, "uses": []}]}', "uses is no object"),
        ('{"tasks": [{"name": "a", "minutes": 1, "uses": {"people": 1}}]}', "no resource"),
        ('{"tasks": [{"name": "a", "minutes": 1, "windows": [[5, 1]]}]}', "ends before it starts"),
        ('{"tasks": [{"name": "a", "minutes": 1, "windows": [5]}]}', "no pair"),
        ('{"tasks": [{"name": "a", "minutes": 1, "windows": [[1, 2, 3]]}]}', "no pair"),
        ('{"tasks": [{"name": "a", "minutes": 1, "windows": 5}]}', "no pair"),
        ('{"tasks": [], "resources": 5}', "resources is no object"),
        ('{"tasks": [], "resources": {"people": null}}', "missing"),
        ('{"tasks": [], "lags": [{"from": "a", "to": "b"}]}', "kind is"),
        ('{"tasks": [], "lags": [{"to": "b", "kind": "start-start"}]}', "from is missing"),
        ('{"tasks": [], "lags": [{"from": "a", "to": "b", "kind": "start-start"}]}', "no task"),
    ],
)
def test_case_that_makes_no_sense_is_refused(text, told):
    case = read_case(text)

    assert case.problem is None
    assert any(told in refusal.problem for refusal in case.refusals), case.refusals
    assert all(refusal.remedy for refusal in case.refusals)


def test_every_refusal_of_a_case_is_told():
    case = read(tasks=[{"name": "a"}, {"minutes": "x"}], lags=[{"kind": "after"}])

    assert len(case.refusals) == 6


def test_numbers_too_large_for_the_engine_are_refused():
    # 10^7 min in millionths are 10^13 ticks, times 10^7 people: beyond 2^56, about 7.2 x 10^16.
    case = read(
        resources={"people": 10_000_000},
        tasks=[{"name": "a", "minutes": 10_000_000}, {"name": "b", "minutes": 0.000001}],
    )

    assert case.problem is None
    assert "too large together" in case.refusals[0].problem


def test_more_tasks_than_a_day_can_hold_are_refused():
    assert read(tasks=[{"name": str(place), "minutes": 1} for place in range(2001)]).problem is None
