"""The owner's way: what an opening costs, and that the sums are sums."""

from __future__ import annotations

import re
from decimal import Decimal

from tests.browser.hand import Hand

DOLLARS = re.compile(r"\$([\d,]+\.\d\d)")


def dollars(text):
    """Return the amounts of a text, in the order in which they stand."""
    return [Decimal(amount.replace(",", "")) for amount in DOLLARS.findall(text)]


def test_any_openings_cost_is_two_presses_away(visit):
    owner = Hand(visit.open("owner"))

    owner.press("Costs", exact=True)
    owner.press("PM-12", exact=True)

    assert owner.pressed == 2
    # 20 openings and the head; the sum stands in the foot
    table = owner.page.get_by_role("region", name="Planned cost per opening")
    assert table.locator("tbody tr").count() == 20


def test_openings_sum_to_their_house_and_parts_to_their_opening_to_the_cent(visit):
    owner = Hand(visit.open("owner"))
    visit.go(owner.page, "/costs/")
    owner.press("PM-12", exact=True)

    table = owner.page.get_by_role("region", name="Planned cost per opening")
    rows = [dollars(text) for text in table.locator("tbody tr").all_inner_texts()]
    house = dollars(table.locator("tfoot").inner_text())

    assert all(sum(parts) == total for *parts, total in rows)
    assert [sum(total for *_, total in rows)] == house


def test_an_openings_cost_says_what_it_is_made_of_and_from_when(visit):
    owner = Hand(visit.open("owner"))
    visit.go(owner.page, "/costs/")
    owner.press("PM-12", exact=True)
    owner.on(owner.page.get_by_role("region", name="Planned cost per opening").get_by_role("link").first)

    for table in owner.page.locator("table.cost-lines").all():
        lines = [dollars(text)[-1] for text in table.locator("tbody tr").all_inner_texts()]
        assert [sum(lines)] == dollars(table.locator("tfoot").inner_text())
    assert re.search(r"rules \S+, prices of \d+ \w{3} 20\d\d", owner.sees)
