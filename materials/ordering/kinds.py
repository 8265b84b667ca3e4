"""Offers as a search for the lightest packs sees them: their weights, in which order. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from materials.ordering.offers import Offer, Step

PARTS = 16
MOST_TRADED = 1_000


@dataclass(frozen=True, slots=True)
class Terms:
    """What is counted: a part of a cent weighs `grain`, more than all places come to.

    `waived` are suppliers with how many of the `PARTS` parts of each of their prices are not counted.
    """

    grain: int
    waived: tuple[tuple[str, int], ...] = ()

    def cents(self, cents: int) -> int:
        """Return the weight of so many cents."""
        return cents * self.grain * PARTS

    def full(self, offer: Offer, price: int) -> int:
        """Return what one pack weighs with nothing waived."""
        return self.cents(price) + offer.place * PARTS

    def weight(self, offer: Offer, price: int) -> int:
        """Return what one pack weighs."""
        return self.full(offer, price) - self.relief(offer.pack.supplier, price)

    def relief(self, supplier: str, cents: int) -> int:
        """Return what is waived of `cents` at `supplier`."""
        return sum(parts for key, parts in self.waived if key == supplier) * cents * self.grain


@dataclass(frozen=True, slots=True)
class Watch:
    """Choices are told apart by what they spend at these suppliers, up to so many cents, and within `limit`.

    At those of `topped` more packs than needed may be bought.
    """

    caps: Mapping[str, int]
    topped: frozenset[str]
    limit: int


class Kind(NamedTuple):
    """An offer as the search sees it. `steps` have, per pack, the weight to add and the least it can count.

    `ratios` are, by stretch, the least weight for the size of this and later offers that serve it, as a pair;
    None where none does. `at` is where the supplier stands among the watched, None: nowhere.
    """

    place: int
    size: int
    since: int
    steps: tuple[tuple[Step, int, int], ...]
    ratios: tuple[tuple[int, int] | None, ...]
    at: int | None
    may_top: bool


def kinds_of(offers: Sequence[Offer], stretches: int, terms: Terms, watch: Watch | None) -> list[Kind]:
    """Return the offers in the order of the search: the cheapest for their size first."""
    ordered = sorted(
        ((_ratio(offer, terms), offer.place, offer) for offer in offers), key=lambda one: one[:2]
    )
    watched = tuple(watch.caps) if watch else ()
    behind: list[Fraction | None] = [None] * stretches
    kinds: list[Kind] = []
    for number, (ratio, place, offer) in reversed(list(enumerate(ordered))):
        key = offer.pack.supplier
        before = [] if watch else [one for _, _, one in ordered[:number]]
        for stretch in range(offer.since, stretches):
            least = behind[stretch]
            behind[stretch] = ratio if least is None else min(least, ratio)
        steps = tuple(
            (
                _traded(offer, step, before, terms),
                terms.full(offer, step.price) if watch else terms.weight(offer, step.price),
                terms.weight(offer, step.price),
            )
            for step in offer.steps
        )
        ratios = tuple(None if one is None else (one.numerator, one.denominator) for one in behind)
        at = watched.index(key) if key in watched else None
        tops = watch is not None and key in watch.topped
        kinds.append(Kind(place, offer.pack.size, offer.since, steps, ratios, at, tops))
    return kinds[::-1]


def _ratio(offer: Offer, terms: Terms) -> Fraction:
    """Return the least weight for its size."""
    return Fraction(min(terms.weight(offer, step.price) for step in offer.steps), offer.pack.size)


def _traded(offer: Offer, step: Step, before: Sequence[Offer], terms: Terms) -> Step:
    """Return the step without numbers of packs that a cheaper offer's would hold as well for no more.

    So many packs of `offer` are traded at once that the other's lowest price is reached, at its last step.
    """
    most = step.most
    for other in before:
        last = other.steps[-1]
        if other.since > offer.since:
            continue
        ours, theirs = terms.weight(offer, step.price), terms.weight(other, last.price)
        for packs in range(1, MOST_TRADED):
            instead = -(-packs * offer.pack.size // other.pack.size)
            if instead * theirs <= packs * ours:
                times = 1 if last.least == 1 else -(-last.least // instead)
                most = min(most, step.least + packs * times - 1)
                break
    return step._replace(most=max(step.least, most))
