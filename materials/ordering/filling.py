"""Orders that reach their suppliers' minimums where a material may come from several of them. Pure.

Orders go to given suppliers, and near-cheapest choices of all rows are put together. First, part of their
prices is waived, so that what fills an order to its minimum counts little: by this no plan weighs less than a
bound. Then every row's choices within a span above the bound are put together; a plan that is found within
the span is the lightest, else the span grows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import NamedTuple

from materials.ordering.books import Apart, Books, Plan
from materials.ordering.cheapest import Found, Numbers, Search, Spent
from materials.ordering.kinds import PARTS, Terms, Watch
from materials.ordering.offers import Row

FIRST_SPAN = 64
GROWTH = 4
MOST_STATES = 5_000
LOOKED_AT = 20
MOST_JOINS = 300_000


class _State(NamedTuple):
    """Choices for the rows so far: their weight with nothing waived, the last of them and those before."""

    full: int
    numbers: Numbers = ()
    before: _State | None = None


class TooMany(ArithmeticError):
    """There are more choices to put together than is worth the time."""


class Filling:
    """Plans all of whose orders go to `allowed`, with an order to each of `opened`.

    `least` is a weight below which there is none, `tried` are plans that came up on the way to it.
    """

    def __init__(self, books: Books, allowed: frozenset[str], opened: frozenset[str]) -> None:
        self.books = books
        self.allowed = allowed
        self.lacks = {
            key: books.accounts[key].minimum for key in sorted(opened) if books.accounts[key].minimum
        }
        self.freight = sum(books.terms.cents(books.accounts[key].freight) for key in opened)
        self.topped = frozenset(key for key in self.lacks if not books.accounts[key].may_stand_below)
        self.tried: list[tuple[Numbers, ...]] = []
        self.joins = MOST_JOINS
        self.terms = books.terms
        self.least = self._bound(self.terms)
        for key in self.lacks:
            self._waive(key)

    def lightest(self, *, below: int, steps: int) -> tuple[Plan | None, bool]:
        """Return the lightest plan that weighs less than `below`, None where none does; and if it is proven.

        Searches of all spans may take about so many `steps` together.
        """
        span = max(1, (below - self.least) // FIRST_SPAN)
        while True:
            limit = min(self.least + span, below - 1)
            before = self.books.effort.left
            try:
                plan = self._lightest_within(limit, steps)
            except TooMany:
                return None, False
            if plan is not None or limit == below - 1:
                return plan, True
            steps -= before - self.books.effort.left
            span *= GROWTH

    def _lightest_within(self, limit: int, steps: int) -> Plan | None:
        """Return the lightest plan of a weight of at most `limit`. Raises TooMany."""
        apart = self._apart(self.terms)
        rests = list(apart.least)
        states: dict[Spent, _State] = {(0,) * len(self.lacks): _State(0)}
        for at, found in enumerate(self._choices(apart.least, limit - self.least, steps)):
            rests[at] = 0
            self.joins -= len(states) * len(found)
            if self.joins < 0:
                raise TooMany
            states = self._lightest_states(states, found, limit=limit - self.freight - sum(rests))
        plans = [
            Plan(weight, numbers)
            for numbers in map(_numbers, states.values())
            if (weight := self.books.full(numbers)) is not None and weight <= limit
        ]
        return min(plans, default=None)

    def _apart(self, terms: Terms) -> Apart:
        apart = self.books.apart(self.allowed, terms)
        if apart is None:
            raise AssertionError("a row that could be bought for has lost its sellers")
        return apart

    def _bound(self, terms: Terms) -> int:
        """Return what any plan weighs at least: what is waived at a supplier is at most what he must get."""
        apart = self._apart(terms)
        self.tried.append(apart.plan.numbers)
        owed = sum(terms.relief(key, lack) for key, lack in self.lacks.items())
        return sum(apart.least) + self.freight + owed

    def _waive(self, key: str) -> None:
        """Waive the part of the supplier's prices that gives the highest bound; it is concave in the part."""
        others = self.terms.waived

        def bound(parts: int) -> tuple[int, Terms]:
            terms = Terms(self.terms.grain, (*others, (key, parts)) if parts else others)
            return self._bound(terms), terms

        low, high = 0, PARTS
        while low < high:
            middle = (low + high) // 2
            if bound(middle + 1)[0] > bound(middle)[0]:
                low = middle + 1
            else:
                high = middle
        self.least, self.terms = bound(low)

    def _choices(self, least: Iterable[int], span: int, steps: int) -> Iterator[Mapping[Spent, Found]]:
        """Yield each row's choices that weigh at most `span` more than its least, by what they spend."""
        nothing = (0,) * len(self.lacks)
        for row, low in zip(self.books.rows, least, strict=True):
            search = self._search(row, limit=low + span, steps=steps)
            steps = search.left
            if not search.is_complete:
                raise TooMany
            # the lightest last, so that it is the one that stays
            choices = sorted(search.found.items(), key=lambda choice: choice[1], reverse=True)
            yield {spent or nothing: one for spent, one in choices}

    def _search(self, row: Row, *, limit: int, steps: int) -> Search:
        """Return what the search finds: all choices where spending counts, else the one lightest."""
        offers = row.of(self.allowed)
        sellers = {offer.pack.supplier for offer in offers}
        watch = Watch(self.lacks, self.topped & sellers, limit) if sellers & set(self.lacks) else None
        return Search(offers, row.needs, self.terms, self.books.effort, steps=steps, watch=watch)

    def _lightest_states(
        self, states: Mapping[Spent, _State], found: Mapping[Spent, Found], *, limit: int
    ) -> dict[Spent, _State]:
        """Return the states with one more row: of each spending the lightest, most beaten ones left out."""
        caps = tuple(self.lacks.values())
        joined: dict[Spent, _State] = {}
        for before, state in states.items():
            for more, one in found.items():
                spent = tuple(min(c, a + b) for c, a, b in zip(caps, before, more, strict=True))
                full = state.full + one.full
                if full + self._owed(spent) <= limit and (spent not in joined or full < joined[spent].full):
                    joined[spent] = _State(full, one.numbers, state)
        if len(joined) > MOST_STATES:
            raise TooMany
        kept: dict[Spent, _State] = {}
        for spent, state in sorted(joined.items(), key=lambda one: (one[1].full, one[0])):
            if not any(_is_at_least(other, spent) for other in islice(reversed(kept), LOOKED_AT)):
                kept[spent] = state
        return kept

    def _owed(self, spent: Spent) -> int:
        """Return what of the waived is still to come: what each supplier's order lacks after `spent`."""
        return sum(
            self.terms.relief(key, lack - done)
            for (key, lack), done in zip(self.lacks.items(), spent, strict=True)
        )


def _is_at_least(other: Spent, spent: Spent) -> bool:
    return all(a >= b for a, b in zip(other, spent, strict=True))


def _numbers(state: _State) -> tuple[Numbers, ...]:
    """Return the choices of all rows that led to `state`."""
    found: list[Numbers] = []
    while state.before is not None:
        found.append(state.numbers)
        state = state.before
    return tuple(reversed(found))
