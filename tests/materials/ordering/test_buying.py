"""What to buy for strips and packs together: which supplier, at which break; worked by hand."""

from __future__ import annotations

import time
from datetime import date

from materials.ordering.buying import Bought, Market, Wanted, buy
from materials.ordering.problem import Pack, PriceBreak, Supplier
from projects.quantities.length import Length
from projects.quantities.money import Money

WEDNESDAY, MONDAY = date(2026, 6, 3), date(2026, 6, 8)
FEET_50 = Length.inches(600).nm


def strips(*inches: int) -> Wanted:
    pieces = {Length.inches(length).nm: inches.count(length) for length in set(inches)}
    return Wanted("membrane", MONDAY, sum(Length.inches(length).nm for length in inches), pieces)


def roll(supplier: str, price: int, *breaks: tuple[int, int], minimum: int = 1) -> Pack:
    steps = tuple(PriceBreak(packs, Money(cents)) for packs, cents in breaks)
    return Pack("membrane", supplier, "roll", FEET_50, Money(price), steps, minimum)


def market(*packs: Pack, freight: int = 0) -> Market:
    sellers = (Supplier("A", 1, freight=Money(freight)), Supplier("B", 1, freight=Money(freight)))
    return Market(WEDNESDAY, packs, sellers)


def asked(wanted: list[Wanted], of: Market) -> Bought:
    return buy(wanted, of, seconds=5.0, clock=time.monotonic)


def told(bought: Bought) -> list[tuple[str, str, int, str]]:
    return sorted(
        (line.material, line.pack.supplier, line.packs, line.total.as_text) for line in bought.lines
    )


def test_strips_and_packs_share_an_order_where_freight_makes_it_cheaper() -> None:
    # apart: rolls from A at 29, foam from B at 12, freight 20 twice: 81; all from B 31 + 12 + 20 = 63;
    # all from A 29 + 15 + 20 = 64
    wanted = [strips(400), Wanted("foam", MONDAY, 1)]
    packs = (
        roll("A", 29_00),
        roll("B", 31_00),
        Pack("foam", "A", "can", 1, Money(15_00)),
        Pack("foam", "B", "can", 1, Money(12_00)),
    )

    assert told(asked(wanted, market(*packs, freight=20_00))) == [
        ("foam", "B", 1, "12.00"),
        ("membrane", "B", 1, "31.00"),
    ]
    # without freight each comes from where it is cheapest: 29 + 12
    assert told(asked(wanted, market(*packs))) == [("foam", "B", 1, "12.00"), ("membrane", "A", 1, "29.00")]


def test_rolls_cost_what_so_many_of_them_cost() -> None:
    # two strips of 400 in a roll of 600 each: no two fit in one. From 3 on a roll of A is 20, B asks 24
    packs = (roll("A", 29_00, (3, 20_00)), roll("B", 24_00))

    assert told(asked([strips(400, 400, 400)], market(*packs))) == [("membrane", "A", 3, "60.00")]
    assert told(asked([strips(400, 400)], market(*packs))) == [("membrane", "B", 2, "48.00")]


def test_a_break_can_make_another_cutting_the_cheapest() -> None:
    # 4 strips of 290: two a short roll of 600 (2 rolls at 30 = 60), four a long one of 1,200 at 59;
    # from 2 on a short roll is 28: 56
    short = Pack("membrane", "A", "short", FEET_50, Money(30_00), (PriceBreak(2, Money(28_00)),))
    long = Pack("membrane", "A", "long", 2 * FEET_50, Money(59_00))

    (line,) = asked([strips(290, 290, 290, 290)], market(short, long)).lines

    assert (line.pack.name, line.packs, line.unit_price, line.total) == (
        "short",
        2,
        Money(28_00),
        Money(56_00),
    )


def test_fewer_rolls_than_are_sold_are_rounded_up() -> None:
    assert told(asked([strips(400)], market(roll("A", 10_00, minimum=4)))) == [("membrane", "A", 4, "40.00")]
    # where another sells one for less than four, that one is bought
    packs = (roll("A", 10_00, minimum=4), roll("B", 35_00))
    assert told(asked([strips(400)], market(*packs))) == [("membrane", "B", 1, "35.00")]


def test_strips_that_no_roll_holds_are_a_shortage_with_its_reason() -> None:
    bought = asked([strips(700)], market(roll("A", 29_00)))

    assert bought.lines == ()
    (short,) = bought.shortages
    assert short.reason == "The pieces are longer than any roll on sale."
    assert short.quantity == Length.inches(700).nm


def test_strips_that_come_late_say_when_and_what_they_cost() -> None:
    # 9 working days from Wednesday 3 June: Tuesday 16
    slow = Market(WEDNESDAY, (roll("A", 29_00),), (Supplier("A", 9),))

    bought = asked([strips(400, 400)], slow)

    (short,) = bought.shortages
    assert (short.comes, short.quantity, short.cost) == (
        date(2026, 6, 16),
        Length.inches(800).nm,
        Money(58_00),
    )
    assert told(bought) == [("membrane", "A", 2, "58.00")]
