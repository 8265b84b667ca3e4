"""`cut_plan` answers as published: keys, figures, exit codes."""

from __future__ import annotations

import io
import json
from decimal import Decimal

import pytest
from django.core.management import call_command

from materials.cutplan.case import problem_of_case
from projects.errors import BadValue

CASE = {
    "rolls": [{"name": "75 ft", "length": 900, "cost": 41.0, "available": None}],
    "offcuts": [{"name": "o-17", "length": 212}],
    "pieces": [
        {"name": "jamb strip", "length": 77, "count": 20},
        {"name": "sill", "length": 54.5, "count": 8},
    ],
    "kerf": 0,
    "usable_offcut": 36,
}


@pytest.fixture
def run(tmp_path):
    """Run the command on a case (an object or raw text); returns exit code and document."""

    def run(case, *options):
        path = tmp_path / "case.json"
        path.write_text(case if isinstance(case, str) else json.dumps(case), encoding="utf-8")
        out, code = io.StringIO(), 0
        try:
            call_command(
                "cut_plan", "--file", str(path), "--json", *options, stdout=out, stderr=io.StringIO()
            )
        except SystemExit as left:
            code = left.code
        return code, json.loads(out.getvalue())

    return run


def test_answer_has_the_published_keys_in_order(run):
    code, answer = run(CASE)

    assert code == 0
    keys = ["status", "cost", "bound", "gap", "seconds", "cuts", "problems", "notices"]
    assert list(answer) == keys
    assert list(answer["cuts"][0]) == ["roll", "times", "pieces", "left"]


def test_offcut_and_decimals_are_planned_exactly(run):
    # 20 x 77 + 8 x 54.5 = 1,976. The offcut holds at most 2 x 77 + 54.5 = 208.5; two rolls hold 1,800
    # and the offcut makes up for the rest: 82 at the least, 41 + 212 hold only 1,112.
    _, answer = run(CASE)

    assert (answer["status"], answer["cost"], answer["bound"], answer["gap"]) == ("optimal", 82, 82, 0)
    assert next(cut for cut in answer["cuts"] if cut["roll"] == "o-17")["times"] == 1


def test_piece_too_long_is_an_answer_and_a_problem(run):
    code, answer = run({**CASE, "pieces": [{"name": "head strip", "length": 901, "count": 1}]})

    assert code == 0
    assert [answer[key] for key in ("status", "cost", "bound", "gap", "cuts")] == [
        "infeasible", None, None, None, [],
    ]  # fmt: skip
    assert answer["problems"] == [
        {
            "row": None,
            "column": None,
            "value": "901",
            "problem": "'head strip' is 901 long; the longest roll or offcut is 900.",
            "remedy": "Add a longer roll, or split the piece where a splice is allowed.",
        }
    ]


def test_splices_are_told_where_there_are_any(run):
    # 23 x 77 = 1,771 and a lap of 4 fit two rolls of 900: 53 ends the first, 77 + 4 - 53 begins the second
    pieces = [{"name": "jamb strip", "length": 77, "count": 23, "splice": True, "house": "Ridge"}]

    _, answer = run({**CASE, "offcuts": [], "pieces": pieces, "lap": 4})

    assert (answer["cost"], answer["bound"]) == (82, 82)
    assert answer["splices"] == [
        {
            "piece": "jamb strip",
            "parts": {"jamb strip, splice 1, part 1": 53, "jamb strip, splice 1, part 2": 28},
        }
    ]


def test_unknown_keys_are_ignored_and_optional_ones_may_be_left_out(run):
    rolls = [{"name": "75 ft", "length": 900, "cost": 41, "colour": "black"}]
    pieces = [{"name": "sill", "length": 54, "count": 2.0}]

    code, answer = run({"rolls": rolls, "pieces": pieces, "author": "office"})

    assert (code, answer["cost"]) == (0, 41)


@pytest.mark.parametrize(
    ("case", "problem"),
    [
        ('{"rolls": [\n  oops', "case.json is not JSON at line 2, column 3: Expecting value."),
        ("[]", "case.json holds no JSON object."),
        ('{"rolls": NaN}', "NaN is not a number."),
        ("[" * 100_000, "case.json holds a number or a nesting that is too long to read."),
        ('{"kerf": ' + "9" * 5000 + "}", "case.json holds a number or a nesting that is too long to read."),
        ({"rolls": []}, "The case has no 'pieces'."),
        ({"pieces": []}, "The case has no 'rolls'."),
        ({**CASE, "rolls": 3}, "'rolls' is not a list of entries."),
        ({**CASE, "rolls": [{"name": "75 ft", "length": 900}]}, "Entry 1 of 'rolls' has no 'cost'."),
        ({**CASE, "pieces": [{"name": "p", "length": 5}]}, "Entry 1 of 'pieces' has no 'count'."),
        (
            {**CASE, "offcuts": [{"name": 7, "length": 5}]},
            "Entry 1 of 'offcuts' has a name that is not text.",
        ),
        ({**CASE, "kerf": "1/8"}, "The case: 'kerf' is not a number."),
        ({**CASE, "kerf": True}, "The case: 'kerf' is not a number."),
        (
            {**CASE, "pieces": [{"name": "p", "length": 5, "count": 1, "house": 3}]},
            "Entry 1 of 'pieces' has a house that is not text.",
        ),
        (
            {**CASE, "pieces": [{"name": "p", "length": 5, "count": 1, "splice": True}]},
            "A piece may be spliced, and there is no lap.",
        ),
        (
            {**CASE, "pieces": [{"name": "p", "length": 5, "count": 1.5}]},
            "Entry 1 of 'pieces': 'count' is not a whole number.",
        ),
        (json.dumps(CASE).replace('"kerf": 0', '"kerf": 1e999999'), "The case: 'kerf' has too many digits."),
        ({**CASE, "kerf": -1}, "kerf is -1."),
    ],
)
def test_case_that_cannot_be_is_refused(run, case, problem):
    code, answer = run(case)

    assert code == 1
    assert list(answer) == ["problems", "notices"]
    assert answer["problems"][0]["problem"] == problem
    assert answer["problems"][0]["remedy"]


def test_missing_file_is_refused(tmp_path):
    out = io.StringIO()

    with pytest.raises(SystemExit) as left:
        call_command("cut_plan", "--file", str(tmp_path / "no.json"), "--json", stdout=out)

    assert left.value.code == 1
    assert json.loads(out.getvalue())["problems"][0]["problem"].startswith("no.json can't be opened")


@pytest.mark.parametrize(
    ("content", "problem"),
    [
        ("{}".encode("utf-16"), "case.json is not UTF-8 text."),
        (b" " * (20 * 1024 * 1024 + 1), "case.json is larger than 20 MB."),
    ],
)
def test_file_that_is_no_text_or_too_large_is_refused(tmp_path, content, problem):
    path, out = tmp_path / "case.json", io.StringIO()
    path.write_bytes(content)

    with pytest.raises(SystemExit) as left:
        call_command("cut_plan", "--file", str(path), "--json", stdout=out)

    assert left.value.code == 1
    assert json.loads(out.getvalue())["problems"][0]["problem"] == problem


@pytest.mark.parametrize("seconds", ["-1", "nan", "inf", "soon", "3601", "1e3"])
def test_time_limit_that_is_none_is_a_bad_value(run, seconds):
    code, answer = run(CASE, f"--seconds={seconds}")

    assert code == 1
    assert answer["problems"][0]["problem"] == f"--seconds is {seconds!r}."


def test_no_seconds_leave_the_first_plan(run):
    code, answer = run(CASE, "--seconds", "0")

    assert (code, answer["status"]) in ((0, "optimal"), (0, "feasible"))
    assert answer["cuts"]


def test_people_read_roll_by_roll(tmp_path):
    path = tmp_path / "case.json"
    path.write_text(json.dumps({**CASE, "offcuts": [], "pieces": CASE["pieces"][:1]}), encoding="utf-8")
    out = io.StringIO()

    call_command("cut_plan", "--file", str(path), stdout=out)

    # 11 x 77 = 847 fit a roll of 900: 20 strips take two, and all 9 of the second leave 900 - 693 = 207
    assert out.getvalue().splitlines() == [
        "optimal: cost 82, proven at least 82.",
        "1 x 75 ft: 11 x jamb strip; 53 left",
        "1 x 75 ft: 9 x jamb strip; 207 left",
    ]


def test_people_read_why_there_is_no_plan(tmp_path):
    path = tmp_path / "case.json"
    path.write_text(json.dumps({**CASE, "rolls": [], "offcuts": []}), encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()

    call_command("cut_plan", "--file", str(path), stdout=out, stderr=err)

    assert out.getvalue().splitlines() == ["infeasible: no plan."]
    assert err.getvalue().startswith("'jamb strip' is 77 long; there is no roll or offcut.")


def test_number_that_is_none_is_refused():
    with pytest.raises(BadValue) as refusal:
        problem_of_case({"rolls": [], "pieces": [], "kerf": Decimal("NaN")})

    assert refusal.value.problem == "The case: 'kerf' has too many digits."
