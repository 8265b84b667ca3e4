"""R16 for real: LibreOffice opens every table that leaves the house, and works out nothing that was typed.

Each table is a real one whose texts are replaced by what has been seen to run. It needs LibreOffice.
"""

from __future__ import annotations

import csv
import io

import pytest
from django.urls import reverse
from openpyxl import Workbook

from crews.selectors.cost_pages import all_costs, costs_table, house_costs, house_costs_table
from materials import services
from materials.convert import order_value
from materials.exchange.needs import takeoff_table
from materials.exchange.table import Table, csv_of, order_table, xlsx_of
from materials.selectors.cut_pages import cut_table, house_cut_page
from materials.selectors.orders import order_of
from materials.selectors.stock import stock_page, stock_table
from materials.selectors.takeoff import house_takeoff, takeoff_summed
from openings import services as openings
from projects.exports import inert
from tests.deep.office import MISSING, is_there, opened
from tests.factories.crews import crew_of
from tests.factories.houses import HouseFactory
from tests.materials.cutting.building import rolls
from tests.projects.test_exports import PAYLOADS

pytestmark = pytest.mark.django_db
SEPARATORS = (",", ";", "\t")


@pytest.fixture(autouse=True)
def _office_is_there():
    if not is_there():
        pytest.fail(MISSING, pytrace=False)


def real_tables(site) -> dict[str, Table]:
    """Return every table that is handed out, of a house that has been ordered, received and laid out."""
    company, house = site.by.company, site.house
    crew_of(company)
    rolls(site.by, 1)
    services.make_cut_list(by=site.by, house=house)
    shown = order_of(company, site.issued().pk)
    order = order_value(shown.row, lines=shown.row.lines.all(), houses=shown.houses)
    row, takeoff = house_takeoff(company, house.pk)
    return {
        "order": order_table(order),
        "takeoff": takeoff_table(takeoff_summed(row.project, row, takeoff)),
        "stock": stock_table(stock_page(company)),
        "cut-list": cut_table(house_cut_page(company, house.pk)),
        "costs": costs_table(all_costs(company)),
        "house-costs": house_costs_table(house_costs(company, house.pk)),
    }


def hostile(table: Table) -> Table:
    """Return the first row as often as there are payloads, each in the place of all its texts."""
    assert table.rows
    first = table.rows[0]
    assert any(isinstance(value, str) and value for value in first)
    rows = tuple(
        tuple(payload if isinstance(value, str) and value else value for value in first)
        for payload in PAYLOADS
    )
    return Table(table.title, table.columns, rows)


def live(sheets):
    """Return every cell that is worked out, with the name of its file."""
    return [(name, cell) for name, rows in sheets.items() for row in rows for cell in row if cell.formula]


def as_told(text):
    """Return a text as lines, for a cell has no other line break."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


@pytest.fixture
def tables(site):
    return {name: hostile(table) for name, table in real_tables(site).items()}


def texts_in(table, written=str):
    """Return row for row what each text should read as."""
    return [
        [as_told(written(value)) if isinstance(value, str) and value else None for value in row]
        for row in table.rows
    ]


def read(rows, like):
    """Return of the sheet's rows below its head the texts that stand where `like` has one."""
    return [
        [as_told(cell.text) if wanted is not None else None for cell, wanted in zip(row, line, strict=False)]
        for row, line in zip(rows[1:], like, strict=False)
    ]


def test_no_workbook_works_out_what_was_typed_and_each_text_reads_as_typed(tables, tmp_path):
    files = []
    for name, table in tables.items():
        files.append(tmp_path / f"{name}.xlsx")
        files[-1].write_bytes(xlsx_of(table))

    sheets = opened(files, tmp_path)

    assert live(sheets) == []
    for name, table in tables.items():
        wanted = texts_in(table)
        assert read(sheets[f"{name}.xlsx"], wanted) == wanted, name


def test_no_csv_file_works_out_what_was_typed_however_it_is_split(tables, tmp_path):
    files = []
    for name, table in tables.items():
        files.append(tmp_path / f"{name}.csv")
        files[-1].write_bytes(csv_of(table))

    for separator in SEPARATORS:
        sheets = opened(files, tmp_path, separator=separator)

        assert live(sheets) == [], ascii(separator)
        if separator == ",":
            for name, table in tables.items():
                wanted = texts_in(table, inert)
                assert read(sheets[f"{name}.csv"], wanted) == wanted, name


def test_rows_that_were_refused_come_back_without_a_formula(manager, client_of, tmp_path):
    sent = io.StringIO(newline="")
    writer = csv.writer(sent)
    writer.writerow(["elevation", "mark", "unit_width", "unit_height"])
    writer.writerows([payload, payload, "36 1/3", payload] for payload in PAYLOADS)
    house = HouseFactory(project__company=manager.company)
    made = openings.start_import(
        by=manager, house=house, file_name="lot.csv", content=sent.getvalue().encode()
    )
    file = tmp_path / "refused.csv"
    file.write_bytes(client_of(manager).get(reverse("schedule-refused-rows", args=[made.pk])).content)

    for separator in SEPARATORS:
        sheets = opened([file], tmp_path, separator=separator)

        assert live(sheets) == [], ascii(separator)
        assert len(sheets["refused.csv"]) > len(PAYLOADS) / 2


def test_negative_control_a_formula_left_alive_is_seen_worked_out(tmp_path):
    listed = tmp_path / "listed.csv"
    listed.write_text('mark,sum\nW1,=1+1\nW2,"=""a""&""b"""\n', encoding="utf-8-sig")
    workbook = Workbook()
    workbook.active.append(["mark", "sum"])
    workbook.active.append(["W1", "=1+1"])
    kept = tmp_path / "kept.xlsx"
    workbook.save(kept)

    sheets = opened([listed], tmp_path, separator=",") | opened([kept], tmp_path)

    assert [cell.text for _, cell in live(sheets)] == ["2", "ab", "2"]
