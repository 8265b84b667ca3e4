"""Takeoff and stock as tables: CSV and workbook hold the same rows, and both hold what the page shows."""

from __future__ import annotations

import csv
import io
import re
from datetime import date
from decimal import Decimal
from html import unescape

import pytest
from django.conf import settings
from django.urls import reverse
from icalendar import Calendar
from openpyxl import load_workbook

from materials.catalogue.load import load_catalogue
from materials.exchange.needs import COLUMNS, Need, Summed, takeoff_table
from materials.exchange.table import csv_of, xlsx_of
from materials.models import PurchaseOrder
from openings import services as openings
from projects.quantities.length import Length
from projects.quantities.text import parse_length
from tests.factories.houses import HouseFactory, ProjectFactory
from tests.materials.cutting.building import rolls
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db
EXAMPLE = (settings.ROOT / "docs" / "examples" / "two-faces.csv").read_text()


def two_faces(by, project, code):
    """Return the README's house, a face bead over the fins of every opening."""
    head, *lines = EXAMPLE.split()
    content = "\n".join([f"{head},over_fin", *(f"{line},sealed" for line in lines)]).encode()
    house = HouseFactory(project=project, code=code)
    sent = openings.start_import(by=by, house=house, file_name="two.csv", content=content)
    openings.confirm_import(by=by, schedule_import=sent)
    return house


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def read_csv(content):
    return [tuple(row) for row in csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""))]


def read_xlsx(content):
    sheet = load_workbook(io.BytesIO(content)).active
    return sheet, [tuple("" if value is None else as_text(value) for value in row) for row in sheet.values]


def as_text(value):
    return value.date().isoformat() if hasattr(value, "date") else str(value)


def plain(html):
    return " ".join(
        unescape(re.sub("<[^>]*>", "", html)).replace("\u2009", " ").replace("\u2044", "/").split()
    )


def cells(page, caption_part):
    """Return the cells of each body row of the page's table with these words in its caption."""
    (table,) = [found for found in re.findall(r"<table.*?</table>", page, re.DOTALL) if caption_part in found]
    body = table.partition("<tbody>")[2]
    rows = re.findall(r"<tr>(.*?)</tr>", body, re.DOTALL)
    return [
        [plain(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)] for row in rows
    ]


def net(told):
    """Return what a page says is needed as (number, strips): inches, cubic inches, or a count."""
    length, _, strips = told.removesuffix(" strips").partition(" in ")
    if told.endswith("in³"):
        return Decimal(told.removesuffix(" in³")), ""
    if "'" in length:
        return Decimal(parse_length(length).nm) / 25_400_000, strips
    return Decimal(told), ""


def test_a_houses_files_hold_the_takeoff_worked_in_the_readme(office, manager):
    house = two_faces(manager, ProjectFactory(company=manager.company, code="ALDER"), "LOT-1")

    rows = read_csv(office.get(reverse("house-takeoff-csv", args=[house.pk])).content)

    # README, "One house, worked": 88'-0" = 1,056 in; 18'-2" = 218 in; 12'-5 13/16" = 149.8125 in
    head = ("ALDER", "LOT-1", "4", "0")
    assert rows[0] == COLUMNS
    assert set(rows[1:]) == {
        (*head, 'Membrane 9"', "1056", "in", "16", "2", "roll of 75'-0\""),
        (*head, 'Membrane 12"', "218", "in", "4", "1", "roll of 75'-0\""),
        (*head, "Sealant", "278.0", "in3", "", "18", "tube"),
        (*head, "Fasteners", "80", "each", "", "", ""),
        (*head, "Corner patches", "12", "each", "", "", ""),
        (*head, "Pan corners", "8", "each", "", "", ""),
        (*head, "Shims", "74", "each", "", "", ""),
        (*head, "Flap tape", "149.8125", "in", "", "", ""),
        (*head, "Foam", "256.5", "in3", "", "", ""),
    }


def test_a_houses_page_csv_and_workbook_hold_the_same_rows(office, manager):
    house = two_faces(manager, ProjectFactory(company=manager.company), "LOT-1")
    page = office.get(reverse("house-takeoff", args=[house.pk])).content.decode()

    listed = read_csv(office.get(reverse("house-takeoff-csv", args=[house.pk])).content)[1:]
    sheet, kept = read_xlsx(office.get(reverse("house-takeoff-xlsx", args=[house.pk])).content)

    assert {(name, *net(told)) for name, told, _ in cells(page, "Net need")} == {
        (row[4], Decimal(row[5]), row[7]) for row in listed
    }
    assert {numbered(row) for row in kept[1:]} == {numbered(row) for row in listed}
    assert sheet.freeze_panes == "A2"
    assert {type(row[5]) for row in list(sheet.values)[1:]} <= {int, float}


def numbered(row):
    """Return the row with its numbers as numbers: a workbook writes 278.0 as 278."""
    return tuple(Decimal(cell) if re.fullmatch(r"\d+(\.\d+)?", cell) else cell for cell in row)


def test_a_projects_file_holds_all_houses_together_and_each_as_its_own_file_has_it(office, manager):
    project = ProjectFactory(company=manager.company)
    houses = [two_faces(manager, project, code) for code in ("LOT-1", "LOT-2")]
    page = office.get(reverse("project-takeoff", args=[project.pk])).content.decode()

    rows = read_csv(office.get(reverse("project-takeoff-csv", args=[project.pk])).content)[1:]
    _, kept = read_xlsx(office.get(reverse("project-takeoff-xlsx", args=[project.pk])).content)

    assert {numbered(row) for row in kept[1:]} == {numbered(row) for row in rows}
    together = [row for row in rows if row[1] == "all houses"]
    assert {(name, *net(told)) for name, told, _ in cells(page, "Net need")} == {
        (row[4], Decimal(row[5]), row[7]) for row in together
    }
    for house in houses:
        own = read_csv(office.get(reverse("house-takeoff-csv", args=[house.pk])).content)[1:]
        assert set(own) == {row for row in rows if row[1] == house.code}
    # house, openings, 9 in rolls, 12 in rolls, tubes, fasteners, patches, as worked in the README
    assert cells(page, "House by house") == [
        [code, "4", "2", "1", "18", "80", "12"] for code in ("LOT-1", "LOT-2")
    ]
    by_house = {(row[1], row[4]): (row[8] or row[5]) for row in rows}
    named = ('Membrane 9"', 'Membrane 12"', "Sealant", "Fasteners", "Corner patches")
    for line in cells(page, "House by house"):
        assert [by_house[line[0], name] for name in named] == line[2:]


def test_five_thousand_rows_are_the_same_in_both_forms():
    needs = (Need('Membrane 9"', Length(25_400_000 * 66), "", 3, 1, "roll"), Need("Shims", 12, ""))
    sums = tuple(Summed("P", f"LOT-{n}", n % 40, n % 3, needs) for n in range(2_500))
    table = takeoff_table(sums)

    listed, (sheet, kept) = read_csv(csv_of(table)), read_xlsx(xlsx_of(table))

    assert len(table.rows) == 5_000 == len(listed) - 1 == sheet.max_row - 1
    assert set(listed) == set(kept)
    assert sum(Decimal(row[5]) for row in listed[1:]) == 2_500 * (66 + 12)


def test_a_row_that_was_dropped_would_be_seen():
    """Negative control of the comparison above."""
    table = takeoff_table((Summed("P", "LOT-1", 1, 0, (Need("Shims", 12, ""), Need("Foam", 3, ""))),))

    listed, (_, kept) = read_csv(csv_of(table)), read_xlsx(xlsx_of(table))

    assert set(listed[:-1]) != set(kept)


def test_no_name_runs_in_either_form():
    table = takeoff_table((Summed("=1+1", "@SUM(A1)", 1, 0, (Need("Shims", 12, ""),)),))

    (_, row), (sheet, _) = read_csv(csv_of(table)), read_xlsx(xlsx_of(table))

    assert row[:2] == ("'=1+1", "'@SUM(A1)")
    assert [cell.data_type for cell in sheet[2]][:4] == ["s", "s", "n", "n"]
    assert sheet["A2"].value == "=1+1"


def test_the_stock_list_can_be_taken_along_to_count_by(office, manager):
    site = build(manager)
    rolls(site.by, 2)
    page = office.get(reverse("stock")).content.decode()

    (head, *listed) = read_csv(office.get(reverse("stock-csv")).content)
    sheet, kept = read_xlsx(office.get(reverse("stock-xlsx")).content)

    assert head[-2:] == ("pieces", "counted")
    assert listed
    assert set(listed) == set(kept[1:])
    assert {row[-1] for row in listed} == {""}
    assert {type(row[-2]) for row in list(sheet.values)[1:]} == {int}
    shown = {cell[1].rpartition(", ")[0] for cell in cells(page, "On hand")}
    assert {f"{row[6]} x {row[5]}" for row in listed} == shown
    assert {row[0] for row in listed} <= {each.name for each in load_catalogue().materials.values()}


def test_deliveries_that_are_due_can_be_taken_along_as_a_calendar(client_of, foreman, manager):
    site = build(manager)
    site.issued()
    order = PurchaseOrder.objects.get()

    answer = client_of(foreman).get(reverse("deliveries-calendar"))
    again = client_of(foreman).get(reverse("deliveries-calendar"))

    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    (event,) = Calendar.from_ical(answer.content).walk("VEVENT")
    (same,) = Calendar.from_ical(again.content).walk("VEVENT")
    assert event["uid"] == same["uid"]
    assert event["dtstart"].dt == order.deliver_by
    assert isinstance(event["dtstart"].dt, date)
    assert order.number in event["summary"]
    assert "$" not in answer.content.decode()
