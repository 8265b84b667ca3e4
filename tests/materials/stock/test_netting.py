"""A week's need against lots that are still good that day, open orders and the reserve; worked by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
import time_machine

from config.invariants.verify import verify
from materials import services
from materials.models import Coverage, PurchaseOrder
from materials.selectors.demand import week_demand
from materials.selectors.netting import net_openings
from materials.selectors.prices import market_today
from projects.quantities.length import Length
from tests.materials.orders.building import bought, build, issue
from tests.materials.stock.building import key, shop, tubes

pytestmark = pytest.mark.django_db
INCH = Length.inches(1).nm


def shares(site, material):
    """Return what each window has of a material: from stock, and on lines."""
    rows = Coverage.objects.filter(opening__house=site.house, material=material, live=True)
    found = {}
    for mark, line, quantity in rows.values_list("opening__mark", "line", "quantity"):
        found.setdefault(mark, {})["line" if line else "stock"] = quantity
    return found


def found(by, material, packs, pack="", **more):
    return services.add_stock(by=by, material=material, pack=pack, packs=packs, key=key(), **more)


def test_without_stock_an_order_is_what_it_was(site):
    assert site.draft().total_cents == 189_90
    assert not Coverage.objects.filter(line=None).exists()


def test_stock_that_suffices_is_not_ordered_and_promised_once(site):
    found(site.by, "screw-2in", 34)

    order = site.draft()

    # 20 + 14 screws lie there: 189.90 - 42.00
    assert "screw-2in" not in bought(order)
    assert order.total_cents == 147_90
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 14}}
    assert services.make_drafts(by=site.by, week=site.monday).orders == ()
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 14}}


def test_what_stock_lacks_is_bought_and_one_window_shares(site):
    found(site.by, "screw-2in", 25)

    order = site.draft()

    # W1 takes its 20, W2 the other 5 and 9 of the box
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 5, "line": 9}}
    assert order.lines.get(material="screw-2in").need == 9
    assert issue(order, by=site.by).number
    assert services.make_drafts(by=site.by, week=site.monday).orders == ()


def test_two_houses_do_not_get_the_same_stock(site):
    found(site.by, "screw-2in", 34)
    site.draft()
    other = build(site.by, code="LOT-2")

    (order,) = services.make_drafts(by=site.by, week=site.monday).orders

    assert shares(other, "screw-2in") == {"W1": {"line": 20}, "W2": {"line": 14}}
    assert order.lines.get(material="screw-2in").packs == 1


def test_spare_of_an_open_order_serves_the_next_house(site):
    issue(site.draft(), by=site.by)
    other = build(site.by, code="LOT-2")

    (order,) = services.make_drafts(by=site.by, week=site.monday).orders

    # 500 screws came for 34; a roll that is cut for LOT-1 stays LOT-1's
    assert "screw-2in" not in bought(order)
    assert bought(order)["membrane-9in"] == (1, "roll-50ft", "29.00")
    assert shares(other, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 14}}


def test_lot_that_expires_before_its_day_does_not_count(site):
    found(site.by, "screw-2in", 34, last_good=site.monday)
    found(site.by, "corner-patch", 5, last_good=site.monday)

    drafts = services.make_drafts(by=site.by, week=site.monday)

    assert bought(drafts.orders[0])["screw-2in"] == (1, "box-500", "42.00")
    assert [(loss.material, loss.quantity) for loss in drafts.losses] == [("screw-2in", 34)]


def test_reserve_stays_and_is_bought(site):
    found(site.by, "pan-corner", 4)
    services.set_minimum(by=site.by, material="pan-corner", quantity=3)

    order = site.draft()

    # two a pan, 4 in all; 4 + 3 - 4 = 3 more at 1.60
    assert bought(order)["pan-corner"] == (3, "piece", "4.80")


def test_strips_are_cut_from_the_roll_on_the_shelf(site):
    found(site.by, "membrane-9in", 1, "roll-50ft")

    order = site.draft()

    # 456 in fit the 600 in there
    assert "membrane-9in" not in bought(order)
    assert shares(site, "membrane-9in") == {"W1": {"stock": 264 * INCH}, "W2": {"stock": 192 * INCH}}


def test_offcut_gives_the_strip_it_holds_and_no_more(site):
    services.add_offcut(by=site.by, material="membrane-9in", name="o-1", length_nm=110 * INCH, key=key())

    order = site.draft()

    # of 54.5, 54.5, 77.5, 77.5 it gives one of 77.5; 32.5 in are left, too short for any other
    assert shares(site, "membrane-9in")["W1"] == {"stock": 77.5 * INCH, "line": 186.5 * INCH}
    cover = Coverage.objects.get(line__order=order, material="membrane-9in", opening__mark="W1")
    assert cover.pieces == {str(Length.inches(54.5).nm): 2, str(Length.inches(77.5).nm): 1}
    assert bought(order)["membrane-9in"] == (1, "roll-50ft", "29.00")


def test_promise_that_stock_lost_is_ordered_after_all(site):
    lot = found(site.by, "screw-2in", 34)
    site.draft()
    services.take_from_lot(
        by=site.by, lot=lot, place=shop(site.by), kind="scrap", pieces=10, key=key(), reason="rust"
    )

    (order,) = services.make_drafts(by=site.by, week=site.monday).orders

    assert bought(order) == {"screw-2in": (1, "box-500", "42.00")}
    # 24 are left: W1 keeps its 20, W2 gets the other 4 and 10 of the box
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 4, "line": 10}}


def test_window_that_grew_is_netted_anew(site):
    found(site.by, "screw-2in", 34)
    site.draft()
    site.widen("W2", 48)
    grown = dict(site_need(site))["W2"]

    (order,) = services.make_drafts(by=site.by, week=site.monday).orders

    assert grown > 14
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 14, "line": grown - 14}}
    assert set(bought(order)) == {"screw-2in"}


def site_need(site):
    for each in week_demand(site.by.company, site.monday).openings:
        yield each.mark, next(need.quantity for need in each.needs if need.material.key == "screw-2in")


def test_discarded_draft_gives_the_share_of_stock_back(site):
    found(site.by, "screw-2in", 25)
    order = site.draft()

    services.discard_draft(by=site.by, order=order)

    assert shares(site, "screw-2in") == {"W1": {"stock": 20}}
    assert shares(site, "foam") == {}
    site.draft()
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 5, "line": 9}}


def test_difference_counts_what_stock_gave(site):
    found(site.by, "screw-2in", 25)
    order = issue(site.draft(), by=site.by)
    site.widen("W2", 48)

    drafts = services.order_difference(by=site.by, order=order)

    # 500 screws came and 9 of them are promised: the packs suffice
    assert all("screw-2in" not in bought(draft) for draft in drafts.orders)


def test_what_was_used_on_its_day_is_not_promised_again(site):
    lot = found(site.by, "screw-2in", 54)
    site.draft()
    morning = datetime.combine(site.tuesday, datetime.min.time(), UTC) + timedelta(hours=16)

    with time_machine.travel(morning):
        services.take_from_lot(by=site.by, lot=lot, place=shop(site.by), kind="use", pieces=34, key=key())
        other = build(site.by, code="LOT-2")
        services.set_need_dates(
            by=site.by,
            elevations=[other.opening("W1").elevation],
            day=site.tuesday + timedelta(days=1),
        )
        services.make_drafts(by=site.by, week=site.monday)

    # the 20 that are left go to the next house
    assert shares(other, "screw-2in") == {"W1": {"stock": 20}, "W2": {"line": 14}}
    assert shares(site, "screw-2in") == {"W1": {"stock": 20}, "W2": {"stock": 14}}


def test_day_that_has_passed_is_not_ordered_again(site):
    lot = found(site.by, "screw-2in", 34)
    site.draft()

    with time_machine.travel(datetime.combine(site.tuesday, datetime.min.time(), UTC) + timedelta(days=3)):
        services.take_from_lot(by=site.by, lot=lot, place=shop(site.by), kind="use", pieces=34, key=key())
        assert services.make_drafts(by=site.by, week=site.monday).orders == ()


def test_nothing_is_broken_by_promises(site):
    found(site.by, "screw-2in", 25)
    found(site.by, "membrane-9in", 1, "roll-50ft")
    tubes(site.by, 2)
    issue(site.draft(), by=site.by)

    assert [each.broken for each in verify([site.by.company]) if not each.holds] == []


def test_stock_of_another_company_gives_nothing(site, stranger):
    found(stranger, "screw-2in", 500)

    assert bought(site.draft())["screw-2in"] == (1, "box-500", "42.00")
    assert PurchaseOrder.objects.count() == 1


def test_looking_promises_nothing(site):
    found(site.by, "screw-2in", 34)
    netted = net_openings(
        site.by.company, week_demand(site.by.company, site.monday).openings, market_today(site.by.company)
    )

    assert sum(amount.quantity for (_, what), amount in netted.given.items() if what == "screw-2in") == 34
    assert not Coverage.objects.exists()


def test_reserve_is_bought_once_though_its_draft_waits(site):
    services.set_minimum(by=site.by, material="pan-corner", quantity=3)
    site.draft()
    other = build(site.by, code="LOT-2")

    (order,) = services.make_drafts(by=site.by, week=site.monday, houses=[other.house]).orders

    # 4 for its two pans; the 3 to keep stand in the first draft
    assert bought(order)["pan-corner"] == (4, "piece", "6.40")


def test_week_shows_what_stock_gives_what_lacks_and_what_spoils(site, client_of):
    found(site.by, "screw-2in", 25, number="F-20")
    found(site.by, "shims", 40, number="SH-3", last_good=site.monday)
    page = client_of(site.by).get(f"/orders/week/{site.monday}/")

    needs = {need.name: need for need in page.context["page"].needs}
    screws = needs["Corrosion-resistant screw 2 in"]
    assert (screws.quantity, screws.stock, screws.ordered, screws.short) == ("34", "25", "", "9")
    text = page.content.decode()
    assert "lot SH-3" in text
    assert "past its last good day" in text
    site.draft()
    after = client_of(site.by).get(f"/orders/week/{site.monday}/").context["page"]
    screws = next(need for need in after.needs if need.name == screws.name)
    assert (screws.stock, screws.ordered, screws.short, after.is_short) == ("25", "9", "", False)
