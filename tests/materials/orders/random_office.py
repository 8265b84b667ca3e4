"""Two managers who do things at random; after each step what was answered and issued stands."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import Any

import pytest

from config.invariants.verify import verify
from materials import services
from materials.errors import AlreadyIssued, DraftIsStale, IssuedStays, OtherLines
from materials.models import Coverage, OrderLine, PurchaseOrder
from openings import services as openings
from projects.models import Role
from projects.quantities.money import Money
from tests.factories.people import MembershipFactory, UserFactory
from tests.materials.orders.building import Site, seen, set_price

REFUSALS = (AlreadyIssued, DraftIsStale, IssuedStays, OtherLines)
STEPS = ("draft", "issue", "again", "other lines", "discard", "difference", "widen", "remove", "price")


@dataclass
class Office:
    """Two managers, a house, and everything that was answered so far."""

    site: Site
    people: list[Any]
    dice: random.Random
    answered: list[tuple[str, str, PurchaseOrder]] = field(default_factory=list)
    written: dict[int, tuple[Any, ...]] = field(default_factory=dict)

    def step(self, what: str) -> bool:
        """Do one thing; return whether it was done and not refused."""
        try:
            getattr(self, what.replace(" ", "_"))(self.dice.choice(self.people))
        except REFUSALS:
            return False
        return True

    def one(self, **found: Any) -> PurchaseOrder | None:
        orders = list(PurchaseOrder.objects.filter(**found))
        return self.dice.choice(orders) if orders else None

    def draft(self, by: Any) -> None:
        services.make_drafts(by=by, week=self.site.monday)

    def issue(self, by: Any) -> None:
        draft = self.one(number=None)
        if draft:
            key, content = f"form-{len(self.answered)}-{self.dice.random()}", seen(draft)
            issued = services.issue_order(by=by, order=draft, key=key, seen=content)
            self.answered.append((key, content, issued))

    def again(self, by: Any) -> None:
        if self.answered:
            key, content, issued = self.dice.choice(self.answered)
            assert services.issue_order(by=by, order=issued, key=key, seen=content).pk == issued.pk

    def other_lines(self, by: Any) -> None:
        if self.answered:
            key, _, issued = self.dice.choice(self.answered)
            with pytest.raises(OtherLines):
                services.issue_order(by=by, order=issued, key=key, seen="0" * 64)

    def discard(self, by: Any) -> None:
        order = self.one()
        if order:
            services.discard_draft(by=by, order=order)

    def difference(self, by: Any) -> None:
        order = self.one(number__isnull=False)
        if order:
            services.order_difference(by=by, order=order)

    def widen(self, by: Any) -> None:
        self.site.widen(self._mark(), self.dice.randrange(18, 72))

    def remove(self, by: Any) -> None:
        row = self.site.opening(self._mark())
        openings.remove_opening(by=by, opening=row)
        services.make_drafts(by=by, week=self.site.monday)
        openings.restore_opening(by=by, opening=row)

    def price(self, by: Any) -> None:
        dollars = Money.of(self.dice.randrange(20, 60), by.company.currency)
        set_price(by, self.site.supplier, "membrane-9in", "roll-75ft", dollars)

    def _mark(self) -> str:
        return self.dice.choice(("W1", "W2"))

    def issued_rows(self) -> dict[int, tuple[Any, ...]]:
        """Return all that stands of issued orders: it may grow, and never differ."""
        lines = OrderLine.objects.exclude(order__number=None).order_by("pk")
        orders = PurchaseOrder.objects.exclude(number=None).values_list()
        return {row[0]: row for row in orders} | {-row[0]: row for row in lines.values_list()}


def walk(site: Site, seed: int, *, steps: int) -> None:
    """Let two managers do `steps` things at random, and look at every invariant after each."""
    otto = MembershipFactory(company=site.by.company, user=UserFactory(name="Otto Brandt"), role=Role.OWNER)
    office = Office(site, [site.by, otto], random.Random(seed))
    done = set()

    for what in ["draft", "issue", *office.dice.choices(STEPS, k=steps - 2)]:
        if office.step(what):
            done.add(what)
        now = office.issued_rows()
        assert {key: now[key] for key in office.written} == office.written
        office.written = now
        broken = [(found.code, found.broken) for found in verify([site.by.company]) if not found.holds]
        assert broken == [], what
        assert _live_demands_are_covered_once()

    assert len(done) > len(STEPS) / 2
    assert office.answered


def _live_demands_are_covered_once() -> bool:
    rows = Coverage.objects.filter(live=True).values_list("opening", "material", "round")
    return len(rows) == len(set(rows))
