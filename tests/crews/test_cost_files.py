"""Planned costs as tables: CSV and workbook hold what the pages show, to the cent, for whom may see it."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from django.urls import reverse

from crews import services
from crews.selectors.cost_pages import COLUMNS, HOUSE_COLUMNS, HOUSES_A_PAGE, all_costs, costs_table
from materials.exchange.table import Table, csv_of
from projects.models import House
from tests.crews.test_costs import MEMBRANES, sell
from tests.factories.crews import MONDAY, crew_of, face_of, house_with
from tests.materials.test_takeoff_files import cells, numbered, plain, read_csv, read_xlsx

pytestmark = pytest.mark.django_db


@pytest.fixture
def boss(client_of, owner):
    return client_of(owner)


@pytest.fixture
def house(company, owner):
    crew = crew_of(company, "RED", wages=(3000, 2000))
    sell(company, MEMBRANES)
    made = house_with(company, "Front,W1,36,60,,,", "Front,W2,24,36,,,sealed")
    services.assign_crew(by=owner, crew=crew, elevation=face_of(made), day=MONDAY)
    return made


def tables(boss, name, *arguments):
    """Return the rows of both forms, and the workbook's sheet."""
    listed = read_csv(boss.get(reverse(f"{name}-csv", args=arguments)).content)
    sheet, kept = read_xlsx(boss.get(reverse(f"{name}-xlsx", args=arguments)).content)
    return listed, kept, sheet


def dollars(told):
    return Decimal(told.lstrip("$").replace(",", "")) if told else None


def amount(cell):
    return Decimal(cell) if cell else None


def test_a_houses_page_and_both_tables_hold_the_same_openings_and_sum(boss, house):
    page = boss.get(reverse("house-costs", args=[house.pk])).content.decode()
    listed, kept, sheet = tables(boss, "house-costs", house.pk)

    shown = [row for row in cells(page, "Planned cost per opening") if len(row) == 6]
    assert listed[0] == kept[0] == HOUSE_COLUMNS
    assert [numbered(row) for row in kept[1:]] == [numbered(row) for row in listed[1:]]
    assert [(f"{row[1]} {row[2]}", row[3], *map(amount, row[4:8])) for row in listed[1:]] == [
        (name, method, *map(dollars, sums)) for name, method, *sums in shown
    ]
    (total,) = re.findall(r'<th scope="row" colspan="5">House</th><td class="number">(.*?)</td>', page)
    assert sum(amount(row[7]) for row in listed[1:]) == dollars(plain(total))
    assert len(shown) == 2
    assert sheet.freeze_panes == "A2"
    assert {cell.data_type for row in sheet.iter_rows(min_row=2, min_col=5, max_col=8) for cell in row} == {
        "n"
    }


def test_one_openings_row_is_the_cost_worked_by_hand(boss, company):
    crew_of(company, wages=(3000, 2000))
    sell(company, MEMBRANES)
    house = house_with(company)

    (_, row), _, _ = tables(boss, "house-costs", house.pk)

    # test_costs.py: material 100.00; labour 44.32 + 12.41 of set-up = 56.73
    assert row[4:6] == ("100.00", "56.73")
    assert amount(row[4]) + amount(row[5]) + amount(row[6]) == amount(row[7])


def test_the_pages_of_houses_and_both_tables_hold_the_same_houses(boss, house, company):
    for number in range(HOUSES_A_PAGE):
        house_with(company, "Front,W1,36,60,,,", code=f"MORE-{number}")
    listed, kept, sheet = tables(boss, "costs")

    shown = []
    for number in (1, 2):
        page = boss.get(reverse("costs"), {"page": number}).content.decode()
        shown += cells(page, 'Per opening</th><th scope="col">By method')

    assert listed[0] == kept[0] == COLUMNS
    assert [numbered(row) for row in kept[1:]] == [numbered(row) for row in listed[1:]]
    assert len(shown) == len(listed) - 1 == HOUSES_A_PAGE + 1
    assert [(f"{row[1]} {row[2]}", int(row[3]), amount(row[4]), amount(row[6])) for row in listed[1:]] == [
        (name, int(count), dollars(each), dollars(total)) for name, count, each, _, total in shown
    ]
    assert sum(amount(row[6]) for row in listed[1:]) == sum(dollars(row[4]) for row in shown)
    assert sheet.freeze_panes == "A2"


def test_a_house_without_a_cost_has_empty_cells(boss, company):
    house_with(company)

    (_, row), _, sheet = tables(boss, "costs")

    assert (row[3], row[4], row[6]) == ("0", "", "")
    assert sheet["G2"].value is None


def test_a_house_that_was_dropped_would_be_seen(boss, house, company):
    """Negative control of the comparisons above."""
    house_with(company, "Front,W1,36,60,,,", code="MORE")
    table = costs_table(all_costs(company))
    shorter = Table(table.title, table.columns, table.rows[:-1])

    _, kept, _ = tables(boss, "costs")

    assert {numbered(row) for row in read_csv(csv_of(shorter))} != {numbered(row) for row in kept}


def test_no_name_runs_in_either_table(boss, house):
    House.objects.filter(pk=house.pk).update(name="=1+1")

    (_, row), _, sheet = tables(boss, "costs")

    assert row[2] == "'=1+1"
    assert (sheet["C2"].data_type, sheet["C2"].value) == ("s", "=1+1")


def test_both_pages_offer_their_tables_and_the_foreman_gets_neither(boss, house, client_of, foreman):
    for name, arguments in (("costs", []), ("house-costs", [house.pk])):
        page = boss.get(reverse(name, args=arguments)).content.decode()
        for form in ("csv", "xlsx"):
            address = reverse(f"{name}-{form}", args=arguments)
            assert f'href="{address}"' in page
            assert client_of(foreman).get(address).status_code == 403


def test_queries_stay_the_same_with_more_houses(house, company, django_assert_max_num_queries):
    with django_assert_max_num_queries(15) as one:
        costs_table(all_costs(company))
    for number in range(3):
        house_with(company, "Front,W1,36,60,,,", code=f"MORE-{number}")
    with django_assert_max_num_queries(len(one.captured_queries)):
        costs_table(all_costs(company))
