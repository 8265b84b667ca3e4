"""Four people who receive, move, correct and use at random at once; the ledger answers for all."""

from __future__ import annotations

import random
from collections import Counter
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from config.invariants.verify import verify
from materials import services
from materials.errors import NotEnough
from materials.models import Lot, Movement, Place, PurchaseOrder
from materials.services import Used, ledger
from tests.materials.orders.building import Site
from tests.materials.orders.races import all_at_once
from tests.materials.stock.building import TUBE, key, shop, there, tubes

DOES = ("move", "use", "scrap", "return", "correct", "at the house", "receive")


@dataclass
class Person:
    """One of the four, with what they did as they remember it: pieces by lot and place, and used in all."""

    site: Site
    lots: list[Lot]
    places: list[Place]
    dice: random.Random
    moved: Counter[tuple[int, int]] = field(default_factory=Counter)
    used_at_house: int = 0
    received: int = 0

    def do(self, what: str) -> None:
        """Do one thing; what there is not enough for is refused, and nothing of it is remembered."""
        by, lot, place = self.site.by, self.dice.choice(self.lots), self.dice.choice(self.places)
        pieces, told = self.dice.randrange(1, 5), {"key": key()}
        with suppress(NotEnough):
            if what == "move":
                to = next(each for each in self.places if each != place)
                services.move_lot(by=by, lot=lot, place=place, to=to, pieces=pieces, **told)
                self.moved[lot.pk, to.pk] += pieces
                self.moved[lot.pk, place.pk] -= pieces
            elif what == "correct":
                less = self.dice.choice((-1, 1))
                services.correct_lot(by=by, lot=lot, place=place, pieces=less, reason="told wrong", **told)
                self.moved[lot.pk, place.pk] += less
            elif what == "at the house":
                used = [Used("sealant", TUBE, pieces)]
                services.use_at_house(by=by, house=self.site.house, truck="RED", used=used, **told)
                self.used_at_house += pieces
            elif what == "receive":
                self._receive(**told)
            else:
                services.take_from_lot(by=by, lot=lot, place=place, kind=what, pieces=pieces, **told)
                self.moved[lot.pk, place.pk] -= pieces

    def _receive(self, **told: Any) -> None:
        order = PurchaseOrder.objects.of(self.site.by.company).get(number__isnull=False)
        line = order.lines.get(material="shims")
        services.receive_delivery(by=self.site.by, order=order, came=[services.Came(line.pk, good=1)], **told)
        self.received += line.pack_size


def four_at_once(site: Site, seed: int, *, steps: int) -> None:
    """Let four people do `steps` things each at the same moment; then what each remembers is what stands."""
    site.issued()
    lots = [tubes(site.by, 12) for _ in range(2)]
    places = [shop(site.by), ledger.truck_of(site.by, "RED")]
    here = ledger.house_of(site.by, site.house)
    four = [Person(site, lots, places, random.Random(f"{seed}-{number}")) for number in range(4)]

    def work(person: Person) -> str:
        for what in person.dice.choices(DOES, k=steps):
            person.do(what)
        return "to the end"

    given = all_at_once(*[lambda person=person: work(person) for person in four])

    assert given == ["to the end"] * 4
    _is_as_remembered(site, four, lots, [*places, here])


def _is_as_remembered(site: Site, four: list[Person], lots: list[Lot], places: list[Place]) -> None:
    left = sum(there(lot, place) for lot in lots for place in places)
    remembered = sum(pieces for person in four for pieces in person.moved.values())
    used = sum(person.used_at_house for person in four)
    assert left == 2 * 12 + remembered - used
    shims = Movement.objects.filter(kind="receive").values_list("quantity", flat=True)
    assert sum(shims) == sum(person.received for person in four)
    assert not Movement.objects.filter(balance__lt=0).exists()
    broken = [(found.code, found.broken) for found in verify([site.by.company]) if not found.holds]
    assert broken == []
