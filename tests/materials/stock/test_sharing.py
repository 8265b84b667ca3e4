"""What is there or to come on a day, and how a need is shared out of it; worked by hand."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
import time_machine

from materials import services
from materials.ordering.problem import Delivery, Demand, Lot, PurchaseProblem
from materials.ordering.sharing import share_out
from materials.ordering.solve import plan_purchases
from materials.selectors.prices import market_today
from materials.selectors.supply import name_of, shelf_of
from materials.services.ledger import truck_of
from projects.quantities.money import Money
from tests.factories.orders import DraftFactory
from tests.materials.orders.building import issue, set_price
from tests.materials.stock.building import JUNE, TUBE, key, shop, tubes

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 6, 3, 16, tzinfo=UTC)


@pytest.fixture
def wednesday():
    """Today is Wednesday 3 June 2026, noon in New York."""
    with time_machine.travel(NOON):
        yield


def case_only(by):
    """Return a supplier of cases of 12 tubes alone, two working days away."""
    supplier = services.set_supplier(by=by, supplier=None, code="HARBOR", name="Harbor Supply", lead_days=2)
    set_price(by, supplier, "sealant", "case-12", Money.of("102.00"))
    return supplier


def due(by, supplier, packs, day):
    """Return an issued order of so many cases for the evening of `day`, for no opening."""
    order = DraftFactory(company=by.company, supplier=supplier, deliver_by=day, total_cents=packs * 102_00)
    line = order.lines.get()
    line.material, line.unit, line.pack, line.pack_size = "sealant", "volume", "case-12", 12 * TUBE
    line.packs, line.unit_price_cents, line.total_cents = packs, 102_00, packs * 102_00
    line.save()
    return issue(order, by=by, key=f"form-{order.pk}")


def test_the_worked_case_comes_out_by_hand(wednesday, manager):
    """8 tubes Monday 8, 53 Thursday 11, reserve 6; A 12 good till Tuesday 9, B 10; 24 due Wednesday 10."""
    lot_a = tubes(manager, 12, lot="A", last_good=JUNE[9])
    lot_b = tubes(manager, 10, lot="B", last_good=date(2026, 9, 30))
    order = due(manager, case_only(manager), 2, JUNE[10])
    services.set_minimum(by=manager, material="sealant", quantity=6 * TUBE)
    market, supply = market_today(manager.company), shelf_of(manager.company, JUNE[3]).supply
    demands = (
        Demand("sealant", 8 * TUBE, JUNE[8], "2N-01"),
        Demand("sealant", 53 * TUBE, JUNE[11], "2N-02"),
    )

    shared = share_out(demands, supply, market)

    # Monday takes 8 of A; 4 expire before Thursday
    (loss,) = shared.losses
    assert (loss.source, loss.quantity, loss.last_good) == (name_of(lot_a.pk), 4 * TUBE, JUNE[9])
    # Thursday: 53 + 6 - (10 + 24) = 25, nothing on Monday: 12 + 10 - 8 - 6 stay
    (wanted,) = shared.wanted
    assert (wanted.needed, wanted.quantity) == (JUNE[11], 25 * TUBE)
    assert shared.given == {("sealant", "2N-01"): 8 * TUBE, ("sealant", "2N-02"): 34 * TUBE}
    assert shared.taken == {
        ("sealant", name_of(lot_a.pk)): 8 * TUBE,
        ("sealant", name_of(lot_b.pk)): 10 * TUBE,
        ("sealant", order.number): 24 * TUBE,
    }
    # 25 tubes are 3 cases; in by Wednesday 10, two working days back
    plan = plan_purchases(
        PurchaseProblem(
            today=JUNE[3],
            demands=(Demand("sealant", wanted.quantity, wanted.needed),),
            packs=market.packs,
            suppliers=market.suppliers,
        )
    )
    (line,) = plan.lines
    assert (line.packs, line.order_by, line.arrives) == (3, JUNE[8], JUNE[10])


def test_delivery_counts_from_the_morning_after_it_is_due(manager, wednesday):
    supplier = case_only(manager)
    late = Demand("sealant", 5 * TUBE, JUNE[10], "2N-01")
    order = due(manager, supplier, 1, JUNE[9])
    supply = shelf_of(manager.company, JUNE[3]).supply

    assert supply.deliveries == (Delivery("sealant", order.number, 12 * TUBE, JUNE[9]),)
    assert share_out((late,), supply, market_today(manager.company)).wanted == ()


def test_what_is_overdue_may_come_today(manager):
    with time_machine.travel(NOON):
        due(manager, case_only(manager), 1, JUNE[1])

        assert shelf_of(manager.company, JUNE[3]).supply.deliveries[0].due == JUNE[3]


def test_lots_of_all_places_count_and_empty_ones_do_not(manager):
    lot, place = tubes(manager, 5), shop(manager)
    gone = tubes(manager, 1)
    services.take_from_lot(by=manager, lot=gone, place=place, kind="use", pieces=1, key=key())
    services.move_lot(by=manager, lot=lot, place=place, to=truck_of(manager, "RED"), pieces=2, key=key())

    assert shelf_of(manager.company, JUNE[3]).supply.lots == (Lot("sealant", name_of(lot.pk), 5 * TUBE),)
