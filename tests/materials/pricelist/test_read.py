"""Price lists as suppliers send them: each row a pack's price, or a problem with what to do."""

from __future__ import annotations

import io
from datetime import date

import openpyxl
import pytest

from materials.catalogue.load import load_catalogue
from materials.pricelist.compare import compare
from materials.pricelist.read import ListedPrice, read_price_list
from openings.schedule.limits import FileRefused
from projects.errors import BadValue

CATALOGUE = load_catalogue()
HEAD = "material,pack,price,valid from,source\n"


def read(rows: str, head: str = HEAD):
    return read_price_list((head + rows).encode(), CATALOGUE)


def prices(rows: str, head: str = HEAD) -> list[int]:
    found = read(rows, head)
    assert found.problems == ()
    return [price.cents for price in found.prices]


def test_a_row_is_a_pack_its_price_its_day_and_its_source() -> None:
    found = read("Flashing membrane 9 in,roll of 75 ft,42.50,2026-07-01,list 7\n")

    assert found.problems == ()
    assert found.prices == (ListedPrice(2, "membrane-9in", "roll-75ft", 4250, date(2026, 7, 1), "list 7"),)


@pytest.mark.parametrize(
    ("text", "cents"),
    [
        ("41", 4100),
        ("41.5", 4150),
        ("$41.50", 4150),
        ("41.50 USD", 4150),
        ('"1,234.50"', 123450),
        ('"1,234"', 123400),
        ('"41,50"', 4150),
    ],
)
def test_a_price_is_read_as_people_write_it(text, cents) -> None:
    assert prices(f"sealant,case-12,{text},,\n") == [cents]


@pytest.mark.parametrize(
    ("row", "column", "problem"),
    [
        ("glue,case-12,10,,", "material", "'glue' is no material of ours."),
        (",case-12,10,,", "material", "No material."),
        ("sealant,bucket,10,,", "pack", "Window sealant is not sold as 'bucket'."),
        ("sealant,case-12,,,", "price", "No price."),
        ("sealant,case-12,ten,,", "price", "'ten' is no price."),
        ("sealant,case-12,-4,,", "price", "'-4' is no price."),
        ("sealant,case-12,0,,", "price", "0 can't be the price of a pack."),
        ("sealant,case-12,10.005,,", "price", "10.005 has parts of a cent."),
        ('sealant,case-12,"1,23,4",,', "price", "'1,23,4' can be read in two ways."),
        ("sealant,case-12,10,1/7/2026,", "valid_from", "'1/7/2026' is no day."),
    ],
)
def test_a_bad_row_says_where_it_is_and_what_to_do(row, column, problem) -> None:
    found = read(f"shims,bundle-50,7.50,,\n{row}\n")

    assert [price.material for price in found.prices] == ["shims"]
    (told,) = found.problems
    assert (told.row, told.column, told.problem) == (3, column, problem)
    assert told.remedy


def test_the_same_pack_twice_for_one_day_is_refused_once() -> None:
    found = read("shims,bundle-50,7.50,,\nshims,bundle-50,8.00,,\nshims,bundle-50,8.00,2027-01-01,\n")

    assert [price.cents for price in found.prices] == [750, 800]
    assert [(told.row, told.problem) for told in found.problems] == [(3, "Row 2 has the same pack.")]


def test_titles_above_and_other_words_for_the_columns_are_understood() -> None:
    found = read("Shims;bundle-50;7,50\n;;\n", head="Spring list;;\nof the yard;;\nItem;Sold as;Net price\n")

    assert [(price.row, price.cents) for price in found.prices] == [(4, 750)]


def test_a_workbook_is_read_like_text_its_dates_and_binary_fractions_too() -> None:
    book = openpyxl.Workbook()
    for row in (
        ["Material", "Pack", "Price", "Valid from"],
        ["Shims", "bundle-50", 7.1 + 0.4, date(2026, 7, 1)],
        ["sealant", "case-12", 96, None],
    ):
        book.active.append(row)
    file = io.BytesIO()
    book.save(file)

    found = read_price_list(file.getvalue(), CATALOGUE)

    assert found.problems == ()
    assert [(price.cents, price.valid_from) for price in found.prices] == [
        (750, date(2026, 7, 1)),
        (9600, None),
    ]


def test_a_file_without_the_three_columns_is_refused_whole() -> None:
    with pytest.raises(BadValue, match="material, pack and price"):
        read("shims,7.50\n", head="material,price\n")
    with pytest.raises(FileRefused):
        read_price_list(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", CATALOGUE)


def test_each_price_stands_beside_what_holds_on_its_own_day() -> None:
    spring, summer, autumn = date(2026, 4, 1), date(2026, 7, 1), date(2026, 10, 1)
    known = {("shims", "bundle-50"): [(spring, (700, ())), (autumn, (900, ((12, 850),)))]}

    found = compare(
        [
            ListedPrice(2, "shims", "bundle-50", 700, summer),
            ListedPrice(3, "shims", "bundle-50", 700, autumn),
            ListedPrice(4, "shims", "bundle-50", 700, date(2026, 1, 1)),
            ListedPrice(5, "foam", "can", 1300),
        ],
        known,
        otherwise=summer,
    )

    assert [(each.day, each.before, each.standing) for each in found] == [
        (summer, (700, ()), "same"),
        (autumn, (900, ((12, 850),)), "changed"),
        (date(2026, 1, 1), None, "new"),
        (summer, None, "new"),
    ]


BREAKS = "material,pack,from packs,price\n"


def test_rows_from_more_packs_on_are_the_breaks_of_the_first() -> None:
    found = read(
        "sealant,case-12,10,98.00\nsealant,case-12,1,102.00\nsealant,case-12,25.0,95.50\nfoam,can,,13\n",
        BREAKS,
    )

    assert found.problems == ()
    assert found.prices == (
        ListedPrice(3, "sealant", "case-12", 102_00, breaks=((10, 98_00), (25, 95_50))),
        ListedPrice(5, "foam", "can", 13_00),
    )


@pytest.mark.parametrize(
    ("rows", "row", "column", "problem"),
    [
        ("foam,can,6,12.00\n", 2, "packs_from", "No row has the price from 1 pack on."),
        ("foam,can,1,13.00\nfoam,can,6,13.00\n", 2, "breaks", "From 6 packs on the price does not fall."),
        ("foam,can,0,13.00\n", 2, "packs_from", "'0' is no number of packs."),
        ("foam,can,half,13.00\n", 2, "packs_from", "'half' is no number of packs."),
    ],
)
def test_breaks_that_do_not_fit_are_refused_with_their_row(rows, row, column, problem) -> None:
    found = read(rows, BREAKS)

    assert found.prices == ()
    assert [(told.row, told.column, told.problem) for told in found.problems] == [(row, column, problem)]


def test_other_breaks_make_a_price_a_changed_one() -> None:
    day = date(2026, 7, 1)
    known = {("foam", "can"): [(day, (13_00, ((6, 12_00),)))]}

    found = compare(
        [
            ListedPrice(2, "foam", "can", 13_00, day, breaks=((6, 12_00),)),
            ListedPrice(3, "foam", "can", 13_00, day, breaks=((6, 11_50),)),
        ],
        known,
        otherwise=day,
    )

    assert [each.standing for each in found] == ["same", "changed"]
