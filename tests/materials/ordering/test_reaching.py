"""The least that an order comes to at its minimum: by hand, and against every number of packs."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.ordering.offers import Offer, Step
from materials.ordering.problem import Pack, PriceBreak
from materials.ordering.reaching import Shelf, least_reaching
from projects.quantities.money import Money


def offer(place: int, size: int, *steps: tuple[int, int, int]) -> Offer:
    """An offer of packs of `size`; its steps are (from, to, cents)."""
    (least, _, price), *later = steps
    breaks = tuple(PriceBreak(first, Money(cents)) for first, _, cents in later)
    pack = Pack("tape", "a", f"of {size}", size, Money(price), breaks, least)
    return Offer(pack, place, 0, tuple(Step(*step) for step in steps))


def test_one_pack_more_is_bought_of_what_misses_the_minimum_least() -> None:
    # tape 5 of 2 a pack: 3 packs of 7.00 = 21.00; foam 4 of 4 a pack: 1 of 9.00. Together 30.00, to 40.00
    # lack 10.00: two tapes 14.00 (44.00), tape and foam 16.00, two foams 18.00 (48.00)
    shelves = [Shelf(5, [offer(1, 2, (1, 9, 700))]), Shelf(4, [offer(1, 4, (1, 9, 900))])]

    reached = least_reaching(shelves, 4_000, 10_000)

    assert reached == (4_400, (((1, 5),), ((1, 1),)))
    assert least_reaching(shelves, 4_000, 4_399) is None


def test_a_lower_price_from_a_break_counts_for_all_packs() -> None:
    # 5.00 each, from 4 on 4.00 each: 15.00, 16.00, 20.00. At least 15.50: four for 16.00
    assert least_reaching([Shelf(1, [offer(1, 1, (1, 3, 500), (4, 9, 400))])], 1_550, 9_000) == (
        1_600,
        (((1, 4),),),
    )


@st.composite
def shelves_of_few(draw: st.DrawFn) -> list[Shelf]:
    """One to three shelves with one or two offers, some with a break, of at most five packs."""
    found = []
    for _ in range(draw(st.integers(1, 3))):
        offers = []
        for place in range(1, draw(st.integers(1, 2)) + 1):
            least, price = draw(st.integers(1, 2)), draw(st.integers(1, 9))
            first = draw(st.integers(least + 1, 6))
            steps = [(least, first - 1, price), (first, 5, draw(st.integers(1, price)))]
            offers.append(
                offer(place, draw(st.integers(1, 4)), *(steps if first <= 5 else [(least, 5, price)]))
            )
        found.append(Shelf(draw(st.integers(1, 8)), offers))
    return found


@settings(max_examples=200, deadline=None)
@given(shelves_of_few(), st.integers(0, 60), st.integers(0, 60))
def test_no_numbers_of_packs_come_to_less(shelves: list[Shelf], least: int, span: int) -> None:
    offers = [(at, one) for at, shelf in enumerate(shelves) for one in shelf.offers]
    sums = {
        sum(one.price(packs) * packs for (_, one), packs in zip(offers, numbers, strict=True))
        for numbers in product(*([0, *range(one.pack.minimum, 6)] for _, one in offers))
        if all(
            sum(
                one.pack.size * packs
                for (where, one), packs in zip(offers, numbers, strict=True)
                if where == at
            )
            >= shelf.need
            for at, shelf in enumerate(shelves)
        )
    }
    wanted = min((sum_ for sum_ in sums if least <= sum_ <= least + span), default=None)

    reached = least_reaching(shelves, least, least + span)

    assert (reached.cents if reached else None) == wanted
    if reached:
        told = [dict(chosen) for chosen in reached.numbers]
        assert reached.cents == sum(
            one.price(packs) * packs for at, one in offers if (packs := told[at].get(one.place, 0))
        )
        assert all(
            sum(one.pack.size * told[at].get(one.place, 0) for one in shelf.offers) >= shelf.need
            for at, shelf in enumerate(shelves)
        )
