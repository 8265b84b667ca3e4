"""Cut lists as tables: CSV, workbook, page and paper hold the same strips and the same sums.

Two windows at all defaults: 8 strips of 9 in membrane, 2 pans of 12 in, 4 flap tapes (test_golden.py).
"""

from __future__ import annotations

import re
from collections import Counter
from datetime import UTC, datetime
from decimal import Decimal

import pytest
import time_machine
from django.urls import reverse

from materials import services
from materials.exchange.table import Table, csv_of, xlsx_of
from materials.models import CutRoll
from materials.papers import cut_list_pdf
from materials.selectors.cut_pages import COLUMNS, cut_table, house_cut_page
from tests.materials.cutting.building import rolls
from tests.materials.test_takeoff_files import numbered, plain, read_csv, read_xlsx
from tests.papers import pages_of

pytestmark = pytest.mark.django_db
LENGTH, HOUSE, MARK, PART = (COLUMNS.index(name) for name in ("length in", "house", "mark", "part"))


@pytest.fixture
def lead(client_of, foreman):
    return client_of(foreman)


@pytest.fixture
def made(site):
    rolls(site.by, 1)
    return services.make_cut_list(by=site.by, house=site.house)


def strips_of(rows):
    return Counter((Decimal(row[LENGTH]), row[HOUSE], row[MARK], row[PART]) for row in rows)


def on_page(page):
    """Return the page's strips, and per material what it says of strips and rolls."""
    strips = Counter()
    for told in re.findall(r'<ol class="strips">(.*?)</ol>', page, re.DOTALL):
        for row in re.findall(r"<li>(.*?)</li>", told, re.DOTALL):
            length, house, mark, part = re.fullmatch(
                r"<strong>(.*?)</strong> <bdi>(.*?)</bdi> <bdi>(.*?)</bdi> (.*?)", row
            ).groups()
            strips[inches(plain(length)), house, mark, plain(part)] += 1
    heads = re.findall(r'<h2 id="cut-[^>]*>(.*?)</h2>\s*<p class="aside">(\d+) strips? from (\d+)', page)
    return strips, {plain(name): (int(strips), int(rolls)) for name, strips, rolls in heads}


def inches(told):
    """Return inches and sixteenths as pages write them: 36 1/2 in."""
    whole, *part = told.removesuffix('"').removesuffix(" in").split()
    above, _, below = (part or [whole])[-1].partition("/")
    fraction = Decimal(above) / Decimal(below) if below else Decimal(0)
    return fraction if "/" in whole else Decimal(whole) + fraction


def on_paper(content):
    """Return how often each mark and part stands on a line of the paper."""
    words = " ".join("\n".join(page.text for page in pages_of(content)).split())
    return Counter(
        re.findall(r"LOT-1 (W\d) (sill strip|head strip|(?:left|right) jamb strip|pan|flap tape)", words)
    )


def test_csv_workbook_page_and_paper_hold_the_same_strips(site, made, lead):
    page = lead.get(reverse("cut-list-house", args=[site.house.pk])).content.decode()
    listed = read_csv(lead.get(reverse("cut-list-house-csv", args=[site.house.pk])).content)
    sheet, kept = read_xlsx(lead.get(reverse("cut-list-house-xlsx", args=[site.house.pk])).content)
    paper = cut_list_pdf(house_cut_page(site.by.company, site.house.pk)).content

    assert listed[0] == kept[0] == COLUMNS
    assert [numbered(row) for row in kept[1:]] == [numbered(row) for row in listed[1:]]
    shown, sums = on_page(page)
    assert shown == strips_of(listed[1:])
    assert on_paper(paper) == Counter((row[MARK], row[PART]) for row in listed[1:])
    # 8 + 2 + 4
    assert sum(strips for strips, _ in sums.values()) == len(listed) - 1 == 14
    assert sums == {
        name: (len(rows), len({row[1] for row in rows}))
        for name in {row[0] for row in listed[1:]}
        for rows in [[row for row in listed[1:] if row[0] == name]]
    }
    assert sheet.freeze_panes == "A2"
    assert {type(row[LENGTH]) for row in list(sheet.values)[1:]} <= {int, float}


def test_the_membranes_strips_are_those_worked_by_hand(site, made, lead):
    listed = read_csv(lead.get(reverse("cut-list-house-csv", args=[site.house.pk])).content)

    rows = [row for row in listed if row[0] == "Flashing membrane 9 in"]
    # W1 54.5, 54.5 and 2 x 77.5; W2 42.5, 42.5 and 2 x 53.5; 600 - 456 = 144 in are left of the roll of 50 ft
    assert sorted(Decimal(row[LENGTH]) for row in rows) == [
        *map(Decimal, ("42.5", "42.5", "53.5", "53.5", "54.5", "54.5", "77.5", "77.5"))
    ]
    assert {(row[3], row[4], row[5]) for row in rows} == {("600", "M9-1", "shop")}
    assert [row[-1] for row in rows] == [""] * 7 + ["144"]


def test_the_day_of_a_cut_is_the_companys_own(site, made, lead):
    roll = CutRoll.objects.get(material="membrane-9in")
    # 1:30 in London is the evening before in New York
    with time_machine.travel(datetime(2026, 6, 9, 1, 30, tzinfo=UTC)):
        services.cut_roll(by=site.by, roll=roll, kept_nm=0)

    sheet, kept = read_xlsx(lead.get(reverse("cut-list-house-xlsx", args=[site.house.pk])).content)

    assert {row[6] for row in kept if row[0] == "Flashing membrane 9 in"} == {"2026-06-08"}
    assert {type(row[6]) for row in sheet.values if row[0] == "Flashing membrane 9 in"} == {datetime}


def test_lists_of_a_day_and_of_an_order_leave_as_tables_too(site, lead):
    order = site.issued()
    for kind, whose in (("day", site.tuesday), ("order", order.pk)):
        address = reverse(f"cut-list-{kind}", args=[whose])
        lead.post(reverse(f"cut-list-{kind}-make", args=[whose]))

        page = lead.get(address).content.decode()
        answers = {
            form: lead.get(reverse(f"cut-list-{kind}-{form}", args=[whose])) for form in ("csv", "xlsx")
        }

        listed, (_, kept) = read_csv(answers["csv"].content), read_xlsx(answers["xlsx"].content)
        assert on_page(page)[0] == strips_of(listed[1:]) == strips_of(kept[1:])
        assert len(listed) > 1
        for form, answer in answers.items():
            assert f'href="{reverse(f"cut-list-{kind}-{form}", args=[whose])}"' in page
            assert answer["Content-Disposition"].endswith(f'.{form}"')


def test_what_could_not_be_laid_out_is_told_in_the_table(site, made):
    page = house_cut_page(site.by.company, site.house.pk)
    made.problems = [
        {"material": "sealant", "problem": "Nothing lies in stock.", "remedy": "Count the stock."}
    ]
    made.save()

    table = cut_table(house_cut_page(site.by.company, site.house.pk))

    assert table.rows[:-1] == cut_table(page).rows
    assert table.rows[-1][0].endswith("Nothing lies in stock. Count the stock.")


def test_a_strip_that_was_dropped_would_be_seen(site, made):
    """Negative control of the comparisons above."""
    table = cut_table(house_cut_page(site.by.company, site.house.pk))
    shorter = Table(table.title, table.columns, table.rows[:-1])

    assert strips_of(read_csv(csv_of(shorter))[1:]) != strips_of(read_xlsx(xlsx_of(table))[1][1:])


def test_a_list_that_was_not_made_is_a_table_without_rows(site, lead):
    content = lead.get(reverse("cut-list-house-csv", args=[site.house.pk])).content

    assert read_csv(content) == [COLUMNS]
