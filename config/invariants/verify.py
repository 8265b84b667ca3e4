"""Every invariant of the database, searched for the contrary in every company."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from config.invariants import borders, orders, plans, stock, windows
from config.invariants.report import Finding, Search, Searching, together
from projects.models import Company

RULES: Mapping[str, str] = {
    "I1": "A demand is ordered once a round, and never more of it than was lacking.",
    "I2": "One form issues one order, and an order says what its form said.",
    "I3": "What was received is in stock, whole, and for ever.",
    "I4": "What a lot has at a place is the sum of its lines, and never below nothing.",
    "I5": "An issued order is what it was; its state is the fold of its events.",
    "I7": "Orders, plans and totals come again from their inputs by the same rules.",
    "I8": "Lines are packs times price, totals their sum; numbers are whole.",
    "I9": "A crew is at one elevation at a time, an elevation has one crew a day.",
    "I10": "No row points into another company.",
    "I11": "An order's events follow one another as they may.",
    "I12": "What was ordered came or is open; what came is there, used, scrapped or sent back.",
    "I14": "Order numbers of a year have no gap and no double.",
    "windows": "An accepted window has a count record of the same size.",
    "phones": "No phone of an owner or office manager stays signed in.",
    "triggers": "Every trigger that guards the tables is in the database.",
}


def verify(companies: Sequence[Company]) -> Iterator[Finding]:
    """Yield what was found of each invariant, in the order of RULES."""
    for code, rule in RULES.items():
        yield together(code, rule, _searches(code, companies))


def _searches(code: str, companies: Sequence[Company]) -> Iterator[Search]:
    if code == "triggers":
        yield borders.all_triggers_are_there()
        return
    for company in companies:
        yield from (search(company) for search in SEARCHES[code])


def _each(fault: orders.Fault) -> Searching:
    return partial(orders.search_orders, fault=fault)


SEARCHES: Mapping[str, tuple[Searching, ...]] = {
    "I1": (orders.covers_once, _each(orders.is_covered_once)),
    "I2": (_each(orders.is_sent_once),),
    "I3": (stock.are_in_stock,),
    "I4": (stock.adds_up,),
    "I5": (_each(orders.stays_as_issued),),
    "I7": (_each(orders.can_be_made_again), plans.can_be_planned_again, plans.can_be_summed_again),
    "I8": (_each(orders.adds_up), borders.are_whole_numbers),
    "I9": (borders.are_in_one_place,),
    "I10": (borders.stay_inside,),
    "I11": (_each(orders.moves_along_the_graph),),
    "I12": (stock.follows_what_came, stock.nothing_is_lost, stock.rolls_are_whole),
    "I14": (orders.are_numbered_in_a_row,),
    "windows": (windows.are_counted,),
    "phones": (borders.ask_at_the_desk,),
}
