"""Which suppliers get an order and which packs are bought there: an integer program, solved exactly. Pure.

Branch and bound over the suppliers whose order costs something in itself: freight, or what it lacks to a
minimum. Below each choice of suppliers the materials are apart, and `cheapest` solves each of them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from materials.ordering.assigning import Assigning, trimmed
from materials.ordering.books import Books, Plan
from materials.ordering.cheapest import Numbers
from materials.ordering.filling import Filling
from materials.ordering.offers import Offer, Row
from materials.ordering.problem import Pack

MOST_BRANCHES = 2_000
FILL_SHARE = 4


@dataclass(frozen=True, slots=True)
class Chosen:
    """How many packs of each kind are bought, and the cents that no plan can cost less than."""

    packs: Mapping[Pack, int]
    bound: int


def choose(books: Books) -> Chosen:
    """Return the cheapest packs for all rows.

    Equally cheap choices compare by the sum of their packs' places (see `Offer`), least first.
    """
    branching = _Branching(books)
    packs = {offer.pack: number for offer, number in books.bought(branching.best.numbers)}
    return Chosen(packs, branching.least // books.terms.cents(1))


class _Branching:
    """`best` is the lightest plan found, `least` a weight below which there is none."""

    def __init__(self, books: Books) -> None:
        self.books = books
        self.best = _some_plan(books)
        self.branches = 0
        self.open_bounds: list[int] = []
        self.to_fill: list[tuple[int, frozenset[str]]] = []
        costly = frozenset(key for key, one in books.accounts.items() if one.freight or one.minimum)
        self.free = books.everyone - costly
        self._branch(frozenset(), costly)
        for filling in self._fillings():
            self._fill(filling)
        if books.undivided:
            self.best = trimmed(books, self.best)
        self.least = min(self.best.weight, *self.open_bounds, self.best.weight)

    def _branch(self, opened: frozenset[str], undecided: frozenset[str]) -> None:
        """Look for a better plan whose orders go to all of `opened` and to some of `undecided`."""
        books = self.books
        apart = books.apart(self.free | opened | undecided, books.terms)
        if apart is None:
            return
        freight = sum(books.terms.cents(books.accounts[key].freight) for key in opened)
        # an order comes to its minimum in goods, or what it lacks is paid too
        owed = sum(books.terms.cents(books.accounts[key].minimum) for key in opened)
        least = max(sum(apart.least), owed) + freight
        if least >= self.best.weight:
            return
        self.branches += 1
        full = self._keep(apart.plan.numbers)
        if full is not None and full <= apart.plan.weight + freight:
            self.open_bounds += [least] if least < full else []
            return
        spent = books.spent(apart.plan.numbers)
        used = [key for key in sorted(undecided) if key in spent]
        if not undecided:
            self.to_fill.append((least, opened))
        elif self.branches > MOST_BRANCHES:
            self.open_bounds.append(least)
        else:
            next_ = used[0] if used else min(undecided)
            self._branch(opened | {next_}, undecided - {next_})
            self._branch(opened, undecided - {next_})

    def _fillings(self) -> list[Filling | Assigning]:
        """Return what is left to fill, the lowest bound first; the plans that come up on the way are kept."""
        fillings: list[Filling | Assigning] = []
        for bound, opened in sorted(self.to_fill, key=lambda one: (one[0], sorted(one[1]))):
            if bound < self.best.weight:
                filling = self._filling(opened)
                for numbers in filling.tried:
                    self._keep(numbers)
                fillings.append(filling)
        return sorted(fillings, key=lambda filling: filling.least)

    def _filling(self, opened: frozenset[str]) -> Filling | Assigning:
        if self.books.undivided:
            return Assigning(self.books, self.free | opened, opened, below=self.best.weight)
        return Filling(self.books, self.free | opened, opened)

    def _fill(self, filling: Filling | Assigning) -> None:
        if filling.least >= self.best.weight:
            return
        plan, is_proven = filling.lightest(below=self.best.weight, steps=self.books.effort.share(FILL_SHARE))
        if plan is not None:
            self._keep(plan.numbers)
        if not is_proven:
            self.open_bounds.append(filling.least)

    def _keep(self, numbers: tuple[Numbers, ...]) -> int | None:
        full = self.books.full(numbers)
        if full is not None and full < self.best.weight:
            self.best = Plan(full, numbers)
        return full


def _some_plan(books: Books) -> Plan:
    """Return a plan that holds: each row's lightest, and more packs where an order stands too low."""
    chosen = [books.lightest(row, _safe(books, row), books.terms) for row in books.rows]
    packs = dict(books.bought([one.numbers for one in chosen if one is not None]))
    for key, spent in sorted(books.spent([one.numbers for one in chosen if one is not None]).items()):
        account = books.accounts[key]
        if account.minimum > spent and not account.may_stand_below:
            offer, number = _topping([o for o in packs if o.pack.supplier == key], account.minimum)
            packs[offer] = max(packs[offer], number)
    numbers = tuple(
        tuple((offer.place, packs[offer]) for offer in row.offers if offer in packs) for row in books.rows
    )
    weight = books.full(numbers)
    if weight is None:
        raise AssertionError("an order that may not stand below its minimum does")
    return Plan(weight, numbers)


def _topping(offers: Sequence[Offer], lack: int) -> tuple[Offer, int]:
    """Return the cheapest offer that alone comes to `lack` cents, every break reached, with its packs."""
    found = []
    for offer in offers:
        last = offer.steps[-1]
        packs = max(last.least, -(-lack // last.price))
        found.append((packs * last.price, offer.pack.material, offer.place, offer, packs))
    *_, offer, packs = min(found)
    return offer, packs


def _safe(books: Books, row: Row) -> frozenset[str]:
    """Return whose orders for the row can be topped up to their minimum, where they have to be."""
    sellers = {offer.pack.supplier for offer in row.offers}
    prices = {
        key: [step.price for offer in row.offers if offer.pack.supplier == key for step in offer.steps]
        for key in sellers
    }
    return frozenset(
        key
        for key in sellers
        if books.accounts[key].may_stand_below or not books.accounts[key].minimum or all(prices[key])
    )
