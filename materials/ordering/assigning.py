"""Orders that reach their suppliers' minimums where each material goes whole to one supplier. Pure.

Branch and bound over who gets which material. A bound waives a part of what is bought at each supplier and
counts that part of his minimum instead: no assignment costs less, whatever the parts. What an order must
have beyond its materials to reach a minimum is worked out to the cent (`reaching`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from materials.ordering.books import Books, Plan
from materials.ordering.cheapest import Numbers
from materials.ordering.reaching import Reached, Shelf, least_reaching

FINE = 64
MOST_CENTS = 4_000_000
BRANCH_STEPS = 40
REACH_STEPS = 200

Sellers = tuple[tuple[str, ...], ...]
"""For each row who may still get it."""


class _Bound(NamedTuple):
    """What no assignment costs less than, in parts of a cent; `parts` are waived, by supplier."""

    parts_of_cents: int
    parts: Mapping[str, int]

    @property
    def cents(self) -> int:
        """Return the cents that no assignment costs less than."""
        return -(-self.parts_of_cents // FINE)


def _parts(bound: _Bound) -> int:
    return bound.parts_of_cents


class Assigning:
    """Plans all of whose orders go to `allowed`, with an order to each of `opened`.

    `least` is a weight below which there is none.
    """

    def __init__(self, books: Books, allowed: frozenset[str], opened: frozenset[str], *, below: int) -> None:
        self.books = books
        self.opened = sorted(opened)
        self.lacks = {key: books.accounts[key].minimum for key in self.opened if books.accounts[key].minimum}
        self.freight = sum(books.accounts[key].freight for key in opened)
        self.limit = below // books.terms.cents(1)
        self.left = 0
        self.best: Plan | None = None
        self.open_bounds: list[int] = []
        self._reached: dict[tuple[str, tuple[int, ...]], tuple[int, Reached | None]] = {}
        found = [
            {
                key: one
                for key in sorted(allowed)
                if (one := books.lightest(row, frozenset({key}), books.terms)) is not None
            }
            for row in books.rows
        ]
        self.low = [{key: one.least // books.terms.cents(1) for key, one in row.items()} for row in found]
        self.is_known = all(one.least == one.full for row in found for one in row.values())
        self.numbers = [{key: one.numbers for key, one in row.items()} for row in found]
        self.sellers: Sellers = tuple(tuple(row) for row in found)
        self.root = self._bound(self.sellers, dict.fromkeys(self.lacks, 0))
        self.least = books.terms.cents(self.root.cents)
        self._take(self._cheapest(self.sellers, self.root.parts))
        self.tried: list[tuple[Numbers, ...]] = [self.best.numbers] if self.best else []

    def lightest(self, *, below: int, steps: int) -> tuple[Plan | None, bool]:
        """Return a cheapest plan that weighs less than `below`, None where none does; and if it is proven.

        The search takes about so many `steps`. Of equally cheap plans the first one found is kept.
        """
        self.best, self.limit, self.left = None, below // self.books.terms.cents(1), steps
        self._branch(self.sellers, self.root)
        self.books.effort.left -= steps - self.left
        if self.open_bounds:
            self.least = self.books.terms.cents(min(self.open_bounds))
        return self.best, not self.open_bounds

    def _branch(self, sellers: Sellers, above: _Bound) -> None:
        """Look for a cheaper plan with each row at one of its `sellers`."""
        bound = self._bound(sellers, above.parts)
        if bound.cents >= self.limit:
            return
        self.left -= BRANCH_STEPS
        if self.left < 0:
            self.open_bounds.append(bound.cents)
            return
        chosen = self._cheapest(sellers, bound.parts)
        exact = self._take(chosen)
        if exact is not None and exact <= bound.cents:
            return
        sellers = self._worth(sellers, bound)
        open_ = [at for at, keys in enumerate(sellers) if len(keys) > 1]
        if not open_:
            if tuple(keys[0] for keys in sellers) != chosen:
                exact = self._take(tuple(keys[0] for keys in sellers))
            if exact is None or not self.is_known:
                self.open_bounds.append(bound.cents)
            return
        at = max(open_, key=lambda at: (max(self.low[at][key] for key in sellers[at]), -at))
        for key in sorted(sellers[at], key=lambda key: (self._cost(at, key, bound.parts), key)):
            self._branch((*sellers[:at], (key,), *sellers[at + 1 :]), bound)

    def _worth(self, sellers: Sellers, bound: _Bound) -> Sellers:
        """Return each row's sellers without those by whom alone the bound passes the best plan."""
        spare = (self.limit - 1) * FINE - bound.parts_of_cents
        kept = []
        for at, keys in enumerate(sellers):
            costs = {key: self._cost(at, key, bound.parts) for key in keys}
            least = min(costs.values())
            kept.append(tuple(key for key in keys if costs[key] - least <= spare))
        return tuple(kept)

    def _cost(self, at: int, key: str, parts: Mapping[str, int]) -> int:
        return (FINE - parts.get(key, 0)) * self.low[at][key]

    def _cheapest(self, sellers: Sellers, parts: Mapping[str, int]) -> tuple[str, ...]:
        return tuple(
            min(keys, key=lambda key: (self._cost(at, key, parts), key)) for at, keys in enumerate(sellers)
        )

    def _bound(self, sellers: Sellers, start: Mapping[str, int]) -> _Bound:
        """Return the best bound found from `start` on: it is concave, so each supplier's part climbs."""
        best = _Bound(self._value(sellers, start), start)
        step = FINE // 4
        while step:
            before = best.parts_of_cents
            for key in self.lacks:
                parts = [best.parts[key] + step, best.parts[key] - step]
                tried = [{**best.parts, key: part} for part in parts if 0 <= part <= FINE]
                best = max(best, *(_Bound(self._value(sellers, one), one) for one in tried), key=_parts)
            if best.parts_of_cents == before:
                step //= 2
        return best

    def _value(self, sellers: Sellers, parts: Mapping[str, int]) -> int:
        value = FINE * self.freight + sum(parts[key] * lack for key, lack in self.lacks.items())
        for low, keys in zip(self.low, sellers, strict=True):
            value += min((FINE - parts.get(key, 0)) * low[key] for key in keys)
        return value

    def _take(self, chosen: tuple[str, ...]) -> int | None:
        """Keep the plan that sends each row to its `chosen` supplier, if it is cheaper than all before.

        Return cents that none of these plans costs less than, exact where below the limit; None: not known.
        """
        held = dict.fromkeys(self.opened, 0)
        for low, key in zip(self.low, chosen, strict=True):
            held[key] = held.get(key, 0) + low[key]
        least = self.freight + sum(max(sum_, self.lacks.get(key, 0)) for key, sum_ in held.items())
        if least >= self.limit:
            return least
        numbers = [self.numbers[at][key] for at, key in enumerate(chosen)]
        for key, lack in self.lacks.items():
            if held[key] >= lack or self.books.accounts[key].may_stand_below:
                continue
            if lack > MOST_CENTS:
                return None
            mine = tuple(at for at, one in enumerate(chosen) if one == key)
            reached = self._reach(key, mine, self.limit - 1 - (least - lack))
            if reached is None:
                return self.limit
            least += reached.cents - lack
            for at, taken in zip(mine, reached.numbers, strict=True):
                numbers[at] = taken
        return self._keep(tuple(numbers))

    def _keep(self, numbers: tuple[Numbers, ...]) -> int | None:
        weight = self.books.full(numbers)
        if weight is None:
            raise AssertionError("an order that was filled to its minimum lacks some of it")
        cents = weight // self.books.terms.cents(1)
        if cents < self.limit:
            self.limit, self.best = cents, Plan(weight, numbers)
        return cents

    def _reach(self, key: str, mine: tuple[int, ...], most: int) -> Reached | None:
        """Return the least that an order for the rows `mine` comes to at its minimum; None: above `most`."""
        tried, reached = self._reached.get((key, mine), (-1, None))
        if reached is None and tried < most:
            rows = [self.books.rows[at] for at in mine]
            shelves = [
                Shelf(row.needs[-1], [offer for offer in row.offers if offer.pack.supplier == key])
                for row in rows
            ]
            reached = least_reaching(shelves, self.lacks[key], most)
            self._reached[key, mine] = most, reached
            self.left -= REACH_STEPS
        return None if reached is None or reached.cents > most else reached


def trimmed(books: Books, plan: Plan) -> Plan:
    """Return the plan without packs that it needs neither for a row nor for a minimum or a lower price."""
    for fewer in _fewer(books, plan.numbers):
        weight = books.full(fewer)
        if weight is not None and weight < plan.weight:
            return trimmed(books, Plan(weight, fewer))
    return plan


def _fewer(books: Books, numbers: tuple[Numbers, ...]) -> Iterator[tuple[Numbers, ...]]:
    """Yield what is left with a pack less of a kind, or none below its minimum, where that is enough."""
    for at, row in enumerate(books.rows):
        offers = {offer.place: offer for offer in row.offers}
        for place, packs in numbers[at]:
            less = packs - 1 if packs > offers[place].pack.minimum else 0
            chosen = tuple(
                (other, less if other == place else number)
                for other, number in numbers[at]
                if less or other != place
            )
            if sum(offers[other].pack.size * number for other, number in chosen) >= row.needs[-1]:
                yield (*numbers[:at], chosen, *numbers[at + 1 :])
