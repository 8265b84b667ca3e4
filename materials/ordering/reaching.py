"""What one supplier's order may come to in cents, once it holds what it must: all sums at once. Pure.

A set of sums is one whole number, bit by bit: adding a pack to each of them is a shift. So it is known which
sums can be had at all, and the least that reaches a minimum is read off.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from materials.ordering.cheapest import Numbers
from materials.ordering.offers import Offer, Step

Sums = Mapping[int, int]
"""By what is still needed, the sums that leave so much open, as bits."""


class Shelf(NamedTuple):
    """What the order has to hold of one material, and in which packs it may."""

    need: int
    offers: Sequence[Offer]


class Reached(NamedTuple):
    """The least sum, in cents, and the packs of each shelf that come to it."""

    cents: int
    numbers: tuple[Numbers, ...]


def least_reaching(shelves: Sequence[Shelf], least: int, most: int) -> Reached | None:
    """Return the least sum of `least` to `most` cents at which an order holds all shelves; None: none."""
    mask = (1 << (most + 1)) - 1
    layers: list[tuple[int, Offer, Sums]] = []
    sums = 1
    for at, shelf in enumerate(shelves):
        open_: Sums = {shelf.need: sums}
        for offer in shelf.offers:
            layers.append((at, offer, open_))
            open_ = _with(open_, offer, mask)
        sums = open_.get(0, 0)
    high = sums >> least
    if not high:
        return None
    cents = least + (high & -high).bit_length() - 1
    return Reached(cents, _traced(shelves, layers, cents))


def _with(sums: Sums, offer: Offer, mask: int) -> Sums:
    """Return the sums after none or some packs of `offer`."""
    after = dict(sums)
    for need, bits in sums.items():
        for step in offer.steps:
            short = min(step.most, (need - 1) // offer.pack.size) if need else 0
            for packs in range(step.least, short + 1):
                left = need - packs * offer.pack.size
                after[left] = after.get(left, 0) | ((bits << packs * step.price) & mask)
            first = max(step.least, short + 1)
            if first <= step.most:
                after[0] = after.get(0, 0) | _from_on(bits, first, step, mask)
    return {need: bits for need, bits in after.items() if bits}


def _from_on(bits: int, first: int, step: Step, mask: int) -> int:
    """Return the sums with each number of packs from `first` to the step's last."""
    bits = (bits << first * step.price) & mask
    done, wanted = 1, step.most - first + 1
    while bits and step.price and done < wanted:
        more = min(done, wanted - done)
        bits |= (bits << more * step.price) & mask
        done += more
    return bits


def _traced(
    shelves: Sequence[Shelf], layers: Sequence[tuple[int, Offer, Sums]], cents: int
) -> tuple[Numbers, ...]:
    """Return packs that come to `cents`, from the last offer back; of each as few as may be."""
    numbers: list[list[tuple[int, int]]] = [[] for _ in shelves]
    need = 0
    for place in range(len(layers) - 1, -1, -1):
        at, offer, before = layers[place]
        packs, cost, need = next(_ways(offer, before, need, cents))
        cents -= cost
        if packs:
            numbers[at].append((offer.place, packs))
        if place and layers[place - 1][0] != at:
            need = 0
    return tuple(tuple(chosen) for chosen in numbers)


def _ways(offer: Offer, before: Sums, after: int, cents: int) -> Iterator[tuple[int, int, int]]:
    """Yield how many packs lead to `cents` with `after` open: their number, their cost, what was open."""
    if before.get(after, 0) >> cents & 1:
        yield 0, 0, after
    counts = ((packs, packs * step.price) for step in offer.steps for packs in _affordable(step, cents))
    for packs, cost in counts:
        for need, bits in before.items():
            if max(0, need - packs * offer.pack.size) == after and bits >> (cents - cost) & 1:
                yield packs, cost, need


def _affordable(step: Step, cents: int) -> range:
    most = min(step.most, cents // step.price) if step.price else step.most
    return range(step.least, most + 1)
