"""`crew_sheet` and `cost` as scripts call them."""

from __future__ import annotations

import json
from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import call_command

from crews import services
from crews.models import DayPlan
from tests.crews.test_costs import MEMBRANES, sell
from tests.factories.crews import MONDAY, crew_of, face_of, fine_day, house_with

pytestmark = pytest.mark.django_db


def run(*args):
    """Return the document, the exit code."""
    out, code = StringIO(), 0
    try:
        call_command(*args, "--json", stdout=out, stderr=StringIO())
    except SystemExit as left:
        code = left.code
    return json.loads(out.getvalue()), code


@pytest.fixture
def red(company, foreman):
    crew = crew_of(company, "RED")
    fine_day(company)
    house = house_with(company, "Front,W1,36,60,24,36,sealed", "Front,W2,24,36,120,36,", code="LOT-7")
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house), day=MONDAY)
    return crew


def test_a_sheet_has_the_published_keys(red):
    document, code = run("crew_sheet", "--crew", "RED", "--date", "2026-06-08")

    assert code == 0
    wanted = {"crew", "date", "visits", "load", "hold_points", "cautions", "pdf", "problems", "notices"}
    assert wanted <= document.keys()
    assert (document["crew"], document["date"], document["pdf"]) == ("RED", "2026-06-08", None)
    visit = document["visits"][0]
    assert {"house", "elevation", "mark", "steps"} <= visit.keys()
    assert (visit["house"], visit["elevation"]) == ("LOT-7", "Front")
    for step in visit["steps"]:
        assert {"step", "start", "end", "people", "wait_until", "why"} <= step.keys()
        assert step["start"] < step["end"]
        assert step["wait_until"] is None or step["wait_until"] <= step["start"]


def test_a_sheets_waits_are_told_with_their_reason(red):
    document, _ = run("crew_sheet", "--crew", "red", "--date", "2026-06-08")

    sealed = next(visit for visit in document["visits"] if visit["mark"] == "W1")
    flap = next(step for step in sealed["steps"] if step["step"] == "flap")
    bead = next(step for step in sealed["steps"] if step["step"] == "face bead")
    # tack-free 60 min after the bead, by the sheet
    hours, minutes = map(int, bead["end"].split(":"))
    assert flap["wait_until"] == f"{hours + 1:02d}:{minutes:02d}"
    assert "tack-free" in flap["why"]


def test_the_sheet_is_written_as_pdf_where_asked(red, tmp_path):
    file = tmp_path / "red.pdf"

    document, code = run("crew_sheet", "--crew", "RED", "--date", "2026-06-08", "--pdf", str(file))

    assert (code, document["pdf"]) == (0, str(file))
    assert file.read_bytes().startswith(b"%PDF")


def test_a_file_that_cannot_be_written_is_refused(red, tmp_path):
    document, code = run(
        "crew_sheet", "--crew", "RED", "--date", "2026-06-08", "--pdf", str(tmp_path / "no" / "red.pdf")
    )

    assert code == 1
    assert "can't be written" in document["problems"][0]["problem"]


@pytest.mark.parametrize(
    ("crew", "day", "words"),
    [
        ("BLUE", "2026-06-08", "There is no crew"),
        ("RED", "8 June", "is no day"),
        ("RED", "2026-02-30", "is no day"),
    ],
)
def test_an_unknown_crew_or_day_is_refused(red, crew, day, words):
    document, code = run("crew_sheet", "--crew", crew, "--date", day)

    assert code == 1
    assert words in document["problems"][0]["problem"]
    assert document["problems"][0]["remedy"]
    assert not DayPlan.objects.exists()


def test_a_day_out_of_nowhere_is_empty_with_a_notice(red):
    document, code = run("crew_sheet", "--crew", "RED", "--date", "2026-06-09")

    assert (code, document["visits"]) == (0, [])
    assert document["notices"] == ["RED is not sent anywhere on Tue 9 Jun. Send it to an elevation first."]


def test_a_cost_has_the_published_keys_and_sums(red, company):
    sell(company, MEMBRANES)

    document, code = run("cost", "--house", "LOT-7")

    assert code == 0
    for opening in document["openings"]:
        groups = [opening[name] for name in ("material", "labour", "other")]
        for group in groups:
            assert group["currency"] == "USD"
            assert sum(Decimal(part["amount"]) for part in group["parts"]) == Decimal(group["amount"])
        assert sum(Decimal(group["amount"]) for group in groups) == Decimal(opening["total"]["amount"])
    total = sum(Decimal(opening["total"]["amount"]) for opening in document["openings"])
    assert Decimal(document["total"]["amount"]) == total


def test_a_cost_says_what_has_no_price(red):
    document, code = run("cost", "--house", "lot-7")

    assert code == 0
    assert "Window sealant has no price, so it is not in the cost." in document["notices"]


def test_a_cost_without_wages_or_house_is_refused(company):
    crew_of(company, wages=(None,))
    house_with(company, code="LOT-7")

    for house, words in (("LOT-7", "No wage is known"), ("LOT-8", "There is no house")):
        document, code = run("cost", "--house", house)
        assert code == 1
        assert words in document["problems"][0]["problem"]


def test_a_foreman_asks_for_no_cost_by_command_either(red, foreman):
    document, code = run("cost", "--house", "LOT-7", "--by", foreman.user.email)

    assert code == 1
    assert document["problems"][0]["problem"] == "Costs are for the owner and the office."


@pytest.mark.parametrize(
    "command", [["cost", "--house", "LOT-7"], ["crew_sheet", "--crew", "RED", "--date", "2026-06-08"]]
)
def test_people_read_lines(red, command):
    out = StringIO()

    call_command(*command, stdout=out, stderr=StringIO())

    assert "W1" in out.getvalue()
    assert "{" not in out.getvalue()
