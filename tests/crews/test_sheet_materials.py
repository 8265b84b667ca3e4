"""What the crew sheet says of makers' sheets, and of what is not known to fit."""

from __future__ import annotations

import datetime as dt
import io

import pytest
from django.urls import reverse
from pypdf import PdfReader

from crews import services
from crews.convert.kept import sheet_of_plan
from crews.documents import sheet_pdf
from crews.selectors.sheets import sheet_page
from materials import services as materials
from projects.actors import CommandLine
from tests.factories.crews import MONDAY, crew_of, face_of, house_with
from tests.materials.compatibility.building import FITTING, a_sheet

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def in_june(time_machine):
    time_machine.move_to(dt.datetime(2026, 6, 10, 16, tzinfo=dt.UTC), tick=False)


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def house(company):
    return house_with(company, "Front,W1,36,60,,,", code="LOT-1")


def send(by, crew, house):
    services.assign_crew(by=by, crew=crew, elevation=face_of(house), day=MONDAY)


def words_of(content) -> str:
    pages = PdfReader(io.BytesIO(content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def sheet(company, crew):
    plan = services.plan_day(by=CommandLine(company), crew=crew, day=MONDAY)
    return plan, sheet_of_plan(plan)


def cautions(company, crew):
    return [(caution.where, caution.told) for caution in sheet(company, crew)[1].cautions]


def test_the_crew_sheet_names_the_sheets_of_what_is_used_that_day(foreman, manager, company, red, house):
    for material in ("membrane-9in", "membrane-12in"):
        a_sheet(manager, material=material, title="Sheet 7")
    a_sheet(manager, material="sealant", title="Sealant 4", dated=dt.date(2024, 6, 7))
    a_sheet(manager, material="drip-cap", title="Not used")
    send(foreman, red, house)

    # both membranes share a sheet; the sealant's is older than 24 months on 8 June 2026
    assert cautions(company, red) == [
        ("Flashing membrane 12 in, Flashing membrane 9 in", "Sheet 7, 2 Mar 2026."),
        ("Window sealant", "Sealant 4, 7 Jun 2024. It is old: ask whether there is a newer one."),
    ]


def test_the_crew_sheet_says_in_one_line_what_is_not_known_to_fit_until_somebody_answers(
    foreman, manager, client_of, company, red, house
):
    project = house.project
    materials.set_kinds(
        by=manager, project=project, kinds=["silicone", "butyl-membrane", "fibreglass-fin", "felt-paper"]
    )
    send(foreman, red, house)

    plan, made = sheet(company, red)
    (line,) = made.cautions
    assert line.where == project.name
    # silicone fits neither butyl nor felt; with fibreglass there is no entry; butyl on felt asks the maker
    assert line.told == (
        "Does not fit: silicone sealant with butyl-faced membrane; "
        "silicone sealant with asphalt felt or paper; and 2 more."
    )
    page = client_of(foreman).get(reverse("sheet", args=[red.pk, MONDAY])).content.decode()
    assert "and 2 more." in page
    assert "Does not fit" in words_of(sheet_pdf(plan).content)

    for one, other in [
        ("silicone", "butyl-membrane"), ("silicone", "felt-paper"),
        ("silicone", "fibreglass-fin"), ("butyl-membrane", "felt-paper"),
    ]:  # fmt: skip
        materials.take_on_pair(
            by=manager, project=project, one=one, other=other, person="Wren Idle", reason="tried"
        )

    assert sheet_page(company, red.pk, MONDAY).is_stale
    assert cautions(company, red) == []


def test_what_fits_and_has_no_sheet_leaves_the_crew_sheet_as_it_was(foreman, manager, company, red, house):
    send(foreman, red, house)
    plan, _ = sheet(company, red)

    materials.set_kinds(by=manager, project=None, kinds=FITTING)

    # nothing on it changes, so that it is not stale either
    assert not sheet_page(company, red.pk, MONDAY).is_stale
    assert sheet(company, red)[0] == plan
    a_sheet(manager)
    assert sheet_page(company, red.pk, MONDAY).is_stale
