"""What must hold of orders: once, whole, in order, reproducible, numbered without a gap."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise
from typing import Any

from django.db.models import Count, Prefetch, QuerySet

from config.invariants.report import Search, searched
from materials.convert import content_hash_of, inputs_hash, issue_body_hash, state_of
from materials.models import Coverage, OrderEvent, OrderLine, PurchaseOrder
from materials.ordering.lacking import NOTHING, Amount
from materials.ordering.numbers import next_step, read_number
from materials.ordering.states import DRAFT, ISSUED, first_wrong
from materials.selectors.demand import Key
from materials.selectors.growth import amount_of
from materials.selectors.inputs import amounts_again
from materials.services.issuing import NUMBER_KIND
from openings.takeoff.compute import RULES_VERSION
from projects.errors import AppError
from projects.models import Company
from projects.models import Counter as NumberCounter

AT_ONCE = 100
TICK = timedelta(0)


@dataclass(frozen=True, slots=True)
class Told:
    """An order with all that hangs on it; `again`: its amounts made anew, None where that can't be done."""

    row: PurchaseOrder
    lines: tuple[OrderLine, ...]
    events: tuple[OrderEvent, ...]
    covers: tuple[Coverage, ...]
    again: Mapping[Key, Amount] | None

    @property
    def name(self) -> str:
        """Return how people find it."""
        return f"order {self.row.number}" if self.row.number else f"draft {self.row.pk}"


Fault = Callable[[Told], Iterator[str]]


def search_orders(company: Company, fault: Fault) -> Search:
    """Return what `fault` finds in each of the company's orders and drafts."""
    return searched((told.name, fault(told)) for told in _orders(company))


def is_covered_once(told: Told) -> Iterator[str]:
    """I1: no more is covered than was lacking when the order was made, nor than its packs hold."""
    if told.again is None:
        return
    for cover in told.covers:
        lacked = told.again.get((cover.opening_id, cover.material), NOTHING).quantity
        if cover.quantity > lacked:
            what = f"{cover.material} for opening {cover.opening_id}"
            yield f"covers {cover.quantity} of {what}, which lacked {lacked}"
    # what earlier packs hold too much goes into the difference
    had = {material for _, material, *_ in told.row.inputs["had"]}
    bought: Counter[str] = Counter()
    for line in told.lines:
        bought[line.material] += line.packs * line.pack_size
    covered: Counter[str] = Counter()
    for cover in told.covers:
        covered[cover.material] += cover.quantity
    for material, quantity in covered.items():
        if material not in had and quantity > bought[material]:
            yield f"covers {quantity} of {material}, but its packs hold {bought[material]}"


def covers_once(company: Company) -> Search:
    """I1: a demand stands on one live line per round."""
    live = Coverage.objects.of(company).filter(live=True).order_by()
    groups = live.values("opening", "opening__mark", "material", "round").annotate(times=Count("id"))
    return searched(
        (
            f"opening {group['opening__mark']}",
            [f"{group['material']}, round {group['round']}, is ordered {group['times']} times"]
            if group["times"] > 1
            else [],
        )
        for group in groups
    )


def is_sent_once(told: Told) -> Iterator[str]:
    """I2: an issued order carries one form's key and the hash of what it said; a draft neither."""
    row = told.row
    if row.number is None:
        if row.issue_key is not None or row.issue_body_hash:
            yield "is a draft with the key of a form"
        return
    if not row.issue_key:
        yield "has no key of the form that issued it"
    if row.issue_body_hash != issue_body_hash(row, row.content_hash):
        yield "was issued by a form that said something else"


def stays_as_issued(told: Told) -> Iterator[str]:
    """I5: its content is that of the day of issue, and its state the fold of its events."""
    row, kinds = told.row, [event.kind for event in told.events]
    if row.number is None:
        if kinds:
            yield f"is a draft, but {kinds[-1]}"
        return
    if content_hash_of(row, told.lines) != row.content_hash:
        yield "differs from what was issued"
    if state_of(row, told.events) == DRAFT or ISSUED not in kinds:
        yield "has a number but was never issued"
    for event in told.events:
        if event.kind == ISSUED and (event.at, event.by_id) != (row.issued_at, row.issued_by_id):
            yield "was issued by somebody else, or at another time, than its event says"


def can_be_made_again(told: Told) -> Iterator[str]:
    """I7: its inputs and the version of the rules bring the same amounts, at the same prices."""
    row = told.row
    if inputs_hash(row.inputs, row.rules_version) != row.input_hash:
        yield "has other inputs than it was made from"
        return
    if row.rules_version != RULES_VERSION or told.again is None:
        return  # an older version's rules stand at its tag
    for cover in told.covers:
        made = amount_of(cover.quantity, cover.pieces)
        again = told.again.get((cover.opening_id, cover.material), NOTHING)
        if made != again:
            yield f"covers {made.quantity} of {cover.material}; made again it is {again.quantity}"
    prices = _prices(row.inputs["prices"])
    for line in told.lines:
        if (line.pack_size, line.unit_price_cents) not in prices.get((line.material, line.pack), set()):
            yield f"line {line.position} has a price that its price list had not"


def _prices(rows: Iterable[Sequence[Any]]) -> dict[tuple[str, str], set[tuple[int, int]]]:
    """Return the sizes and prices of each pack, that of each break among them."""
    return {
        (material, pack): {(size, cents), *((size, step) for each in breaks for _, step in each)}
        for material, pack, size, cents, _, *breaks in rows
    }


def adds_up(told: Told) -> Iterator[str]:
    """I8: each line is packs times price, and the total their sum, in whole cents."""
    for line in told.lines:
        if line.packs * line.unit_price_cents != line.total_cents:
            yield f"line {line.position}: {line.packs} x {line.unit_price_cents} is not {line.total_cents}"
    total = sum(line.total_cents for line in told.lines)
    if total != told.row.total_cents:
        yield f"its lines come to {total} cents, its total says {told.row.total_cents}"


def moves_along_the_graph(told: Told) -> Iterator[str]:
    """I11: its events follow one another as they may, each at its time."""
    wrong = first_wrong(event.kind for event in told.events)
    if wrong is not None:
        yield f"was {wrong} when it could not be"
    times = [event.at for event in told.events]
    if any(then - before < TICK for before, then in pairwise(times)):
        yield "has an event before the one it follows"


def are_numbered_in_a_row(company: Company) -> Search:
    """I14: each year's numbers run from 001 to the counter's last without gap or double; changes count on."""
    given: dict[int, list[int]] = {}
    odd: list[str] = []
    numbers = PurchaseOrder.objects.of(company).filter(number__isnull=False).order_by("number")
    for text, changed in numbers.values_list("number", "changes__number"):
        number = read_number(text or "")
        if number is None:
            odd.append(f"{text} is no number of ours")
        elif not number.step:
            given.setdefault(number.year, []).append(number.count)
        if changed is not None and text != next_step(changed):
            odd.append(f"{text} changes {changed}, which is {next_step(changed)}")
    counters = NumberCounter.objects.of(company).filter(kind=NUMBER_KIND)
    last = dict(counters.values_list("year", "last"))
    years = [(f"year {year}", _gaps(given.get(year, []), last.get(year, 0))) for year in {*given, *last}]
    return searched([*years, *(("numbers", [fault]) for fault in odd)])


def _gaps(given: list[int], last: int) -> list[str]:
    times, due = Counter(given), set(range(1, last + 1))
    return [
        *(f"number {number} is given {count} times" for number, count in times.items() if count > 1),
        *(f"number {number} is missing" for number in sorted(due - set(given))),
        *(f"number {number} is beyond the last, {last}" for number in sorted(set(given) - due)),
    ]


def _orders(company: Company) -> Iterator[Told]:
    lines: QuerySet[OrderLine] = OrderLine.objects.of(company).order_by("position")
    covers: QuerySet[Coverage] = Coverage.objects.of(company).filter(live=True).order_by("pk")
    events: QuerySet[OrderEvent] = OrderEvent.objects.of(company).order_by("pk")
    rows = PurchaseOrder.objects.of(company).order_by("pk")
    fetched = rows.prefetch_related(
        Prefetch("lines", queryset=lines),
        Prefetch("lines__covers", queryset=covers),
        Prefetch("events", queryset=events),
    )
    for row in fetched.iterator(chunk_size=AT_ONCE):
        own = tuple(row.lines.all())
        covered = tuple(cover for line in own for cover in line.covers.all())
        yield Told(row, own, tuple(row.events.all()), covered, _again(row))


def _again(row: PurchaseOrder) -> Mapping[Key, Amount] | None:
    if not row.inputs or row.rules_version != RULES_VERSION:
        return None
    try:
        return amounts_again(row.inputs)
    except (AppError, KeyError, TypeError, ValueError):
        return {}  # inputs that were tampered with: their hash says so
