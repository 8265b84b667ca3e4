"""What a choice of packs comes to: rows and suppliers' accounts, and each row's cheapest packs. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from materials.ordering.cheapest import Effort, Numbers, Search
from materials.ordering.kinds import Terms
from materials.ordering.offers import Offer, Row
from materials.ordering.problem import PurchaseProblem

ROW_SHARE = 20


@dataclass(frozen=True, slots=True)
class Account:
    """What an order at one supplier costs beside its packs, and his minimum, in cents."""

    freight: int
    minimum: int
    may_stand_below: bool


class Plan(NamedTuple):
    """A choice for every row, and what it weighs by the terms it was made on."""

    weight: int
    numbers: tuple[Numbers, ...]


class Lightest(NamedTuple):
    """The lightest choice of one row that was found, and a weight below which it has none."""

    least: int
    full: int
    numbers: Numbers


class Apart(NamedTuple):
    """The lightest choice of each row by itself, and the weights below which a row has none."""

    plan: Plan
    least: tuple[int, ...]


@dataclass(slots=True)
class Books:
    """The rows to buy for, by whom and on which plain terms (nothing waived)."""

    rows: tuple[Row, ...]
    accounts: Mapping[str, Account]
    undivided: bool
    effort: Effort
    terms: Terms = field(init=False)
    _known: dict[tuple[str, frozenset[str], Terms], Lightest | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Make a cent weigh more than all places that may be counted come to."""
        self.terms = Terms(1 + sum(o.place * o.steps[-1].most for row in self.rows for o in row.offers))

    @property
    def everyone(self) -> frozenset[str]:
        """Return all suppliers."""
        return frozenset(self.accounts)

    def apart(self, allowed: Collection[str], terms: Terms) -> Apart | None:
        """Return each row's lightest choice among `allowed` suppliers; None where a row has none."""
        found = [self.lightest(row, frozenset(allowed), terms) for row in self.rows]
        known = [one for one in found if one is not None]
        if len(known) < len(found):
            return None
        plan = Plan(sum(one.full for one in known), tuple(one.numbers for one in known))
        return Apart(plan, tuple(one.least for one in known))

    def lightest(self, row: Row, allowed: frozenset[str], terms: Terms) -> Lightest | None:
        """Return the row's lightest choice among `allowed` suppliers; None where it has none."""
        sellers = allowed & {offer.pack.supplier for offer in row.offers}
        terms = Terms(terms.grain, tuple(one for one in terms.waived if one[0] in sellers))
        key = (row.material, sellers, terms)
        if key not in self._known:
            if self.undivided and len(sellers) > 1:
                self._known[key] = self._lightest_of_one(row, sellers, terms)
            else:
                self._known[key] = self._searched(row, sellers, terms)
        return self._known[key]

    def _lightest_of_one(self, row: Row, sellers: frozenset[str], terms: Terms) -> Lightest | None:
        """Return the row's lightest choice at a single one of `sellers`."""
        each = [self.lightest(row, frozenset({one}), terms) for one in sorted(sellers)]
        there = [one for one in each if one is not None]
        if not there:
            return None
        _, full, numbers = min(there, key=lambda one: one[1:])
        return Lightest(min(one.least for one in there), full, numbers)

    def _searched(self, row: Row, sellers: frozenset[str], terms: Terms) -> Lightest | None:
        """Return the row's lightest choice of all that `sellers` have."""
        search = Search(row.of(sellers), row.needs, terms, self.effort, steps=self.effort.share(ROW_SHARE))
        if search.proven is None:
            return None
        return Lightest(search.proven, *min(search.found.values()))

    def spent(self, numbers: Sequence[Numbers]) -> Counter[str]:
        """Return the cents spent at each supplier that is bought from."""
        found: Counter[str] = Counter()
        for offer, packs in self.bought(numbers):
            found[offer.pack.supplier] += packs * offer.price(packs)
        return found

    def bought(self, numbers: Sequence[Numbers]) -> Iterator[tuple[Offer, int]]:
        """Yield each offer that is taken, with the number of packs."""
        for row, chosen in zip(self.rows, numbers, strict=True):
            by_place = {offer.place: offer for offer in row.offers}
            for place, packs in chosen:
                yield by_place[place], packs

    def full(self, numbers: Sequence[Numbers]) -> int | None:
        """Return what a whole plan weighs, orders included; None where an order may not stand so low."""
        weight = sum(packs * self.terms.full(o, o.price(packs)) for o, packs in self.bought(numbers))
        spent = self.spent(numbers)
        for key, account in self.accounts.items():
            if key in spent:
                lack = max(0, account.minimum - spent[key])
                if lack and not account.may_stand_below:
                    return None
                weight += self.terms.cents(account.freight + lack)
        return weight


def books_of(problem: PurchaseProblem, rows: tuple[Row, ...], below: frozenset[str], effort: Effort) -> Books:
    """Return the books of a problem; `below` names the suppliers whose orders may lack to a minimum."""
    accounts = {
        supplier.key: Account(
            supplier.freight.cents,
            supplier.minimum.cents,
            supplier.key in below,
        )
        for supplier in sorted(problem.suppliers, key=lambda supplier: supplier.key)
    }
    return Books(rows, accounts, problem.undivided, effort)
