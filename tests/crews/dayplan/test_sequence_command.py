"""`manage.py sequence` as the published interface has it."""

from __future__ import annotations

import io
import json

import pytest
from django.core.management import call_command

# Prep 26 for one, bead 4 for one at most 10 before set, set 12 for two: set from 26 to 38.
CASE = {
    "resources": {"people": 2},
    "tasks": [
        {"name": "prep", "minutes": 26, "uses": {"people": 1}},
        {"name": "bead", "minutes": 4, "uses": {"people": 1}},
        {"name": "set", "minutes": 12, "uses": {"people": 2}, "windows": [[0, 240]]},
    ],
    "lags": [
        {"from": "prep", "to": "set", "kind": "finish-start", "min": 0},
        {"from": "bead", "to": "set", "kind": "finish-start", "min": 0, "max": 6},
    ],
}


@pytest.fixture
def run(tmp_path):
    def run_case(case, **options):
        path = tmp_path / "case.json"
        path.write_text(case if isinstance(case, str) else json.dumps(case), encoding="utf-8")
        out = io.StringIO()
        try:
            call_command("sequence", file=str(path), json=True, stdout=out, workers=1, **options)
        except SystemExit as left:
            return json.loads(out.getvalue()), left.code
        return json.loads(out.getvalue()), 0

    return run_case


def test_answer_has_the_published_keys(run):
    document, code = run(CASE)

    assert code == 0
    assert list(document) == [
        "status",
        "makespan",
        "bound",
        "gap",
        "seconds",
        "starts",
        "problems",
        "notices",
    ]


def test_shortest_plan_is_answered_with_its_starts(run):
    document, _ = run(CASE)

    assert (document["status"], document["makespan"], document["bound"]) == ("optimal", 38, 38)
    assert document["gap"] == 0
    assert (document["starts"]["prep"], document["starts"]["set"]) == (0, 26)
    assert 16 <= document["starts"]["bead"] <= 22


def test_fractions_of_a_minute_come_back_as_they_went_in(run):
    document, _ = run(
        {
            "tasks": [{"name": "a", "minutes": 7.5}, {"name": "b", "minutes": 0.25}],
            "lags": [{"from": "a", "to": "b", "kind": "finish-start", "min": 1.1}],
        }
    )

    # 7.5 + 1.1 = 8.6; + 0.25 = 8.85.
    assert (document["starts"]["b"], document["makespan"]) == (8.6, 8.85)


def test_impossible_case_is_done_with_null_figures(run):
    document, code = run(
        {"resources": {"people": 1}, "tasks": [{"name": "a", "minutes": 5, "uses": {"people": 2}}]}
    )

    assert code == 0
    assert document["status"] == "infeasible"
    assert (document["makespan"], document["bound"], document["gap"]) == (None, None, None)
    assert document["starts"] == {}
    assert document["problems"] == []
    assert document["notices"] == ["a uses 2 of people; there are 1."]


def test_case_without_tasks_takes_no_time(run):
    document, code = run({"resources": {}, "tasks": [], "lags": []})

    assert code == 0
    assert (document["status"], document["makespan"], document["bound"], document["gap"]) == (
        "optimal",
        0,
        0,
        0,
    )


@pytest.mark.parametrize(
    "case",
    [
        "not json",
        {"tasks": [{"name": "a", "minutes": -5}]},
        {"tasks": [{"name": "a", "minutes": 5, "uses": {"people": 1}}]},
        {"tasks": [{"name": "a", "minutes": 5}, {"name": "a", "minutes": 5}]},
        {"tasks": [{"name": "a", "minutes": 5, "windows": [[9, 3]]}]},
        {"tasks": [], "lags": [{"from": "a", "to": "b", "kind": "finish-start"}]},
    ],
)
def test_case_that_contradicts_itself_is_refused(run, case):
    document, code = run(case)

    assert code == 1
    assert document["problems"]
    assert "status" not in document


def test_missing_file_is_refused():
    out = io.StringIO()

    with pytest.raises(SystemExit) as left:
        call_command("sequence", file="/nowhere/case.json", json=True, stdout=out)

    assert left.value.code == 1
    assert len(json.loads(out.getvalue())["problems"]) == 1


@pytest.mark.parametrize(
    "options", [{"seconds": "-1"}, {"seconds": "soon"}, {"seconds": "3601"}, {"seed": 0}]
)
def test_options_that_cannot_be_are_refused(run, options):
    _, code = run(CASE, **options)

    assert code == 1


def test_workers_below_one_are_refused(tmp_path):
    path = tmp_path / "case.json"
    path.write_text(json.dumps(CASE), encoding="utf-8")

    with pytest.raises(SystemExit) as left:
        call_command("sequence", file=str(path), workers=0, json=True, stdout=io.StringIO())

    assert left.value.code == 1


def test_no_seconds_leave_the_list_schedulers_plan(run):
    # Three of 10 min for two people: 20, with a bound of 15 that only a search could raise.
    tasks = [{"name": name, "minutes": 10, "uses": {"people": 1}} for name in "abc"]

    document, _ = run({"resources": {"people": 2}, "tasks": tasks}, seconds="0")

    assert (document["status"], document["makespan"], document["bound"]) == ("feasible", 20, 15)
    assert document["gap"] == 0.25


def test_answer_for_people_lists_starts_in_order_of_time(tmp_path, capsys):
    path = tmp_path / "case.json"
    path.write_text(json.dumps(CASE), encoding="utf-8")

    call_command("sequence", "--file", str(path), "--workers", "1")

    first, *rest = capsys.readouterr().out.splitlines()
    assert first.startswith("optimal: ends at 38 min, not before 38 min in any order")
    assert [line.split(maxsplit=1)[1] for line in rest] == ["prep", "bead", "set"]
