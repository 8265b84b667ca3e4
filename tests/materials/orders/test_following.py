"""What follows an issued order: the supplier's word, its end, a change; worked by hand.

The order covers W1 36 x 60 and W2 24 x 36 at 189.90, see `test_golden.py`.
"""

from __future__ import annotations

import pytest

from config.invariants.verify import verify
from materials import services
from materials.catalogue.load import load_catalogue
from materials.errors import AlreadyIssued, DraftIsStale, NothingLeft, OrderMoved
from materials.exchange.change import Standing
from materials.models import Coverage, OrderEvent, PurchaseOrder
from materials.selectors.changes import changes_shown
from materials.selectors.growth import growth_of
from materials.selectors.orders import order_of
from openings.services import remove_opening
from projects.errors import BadValue, NotAllowed, NotThere
from tests.materials.orders.building import bought, issue

pytestmark = pytest.mark.django_db


def events(order) -> list[tuple[str, str]]:
    return list(OrderEvent.objects.filter(order=order).values_list("kind", "note"))


def live(order) -> int:
    return Coverage.objects.filter(line__order=order, live=True).count()


def broken(site) -> list[str]:
    return [str(finding) for finding in verify([site.by.company]) if finding.broken]


def receive(site, order, packs: int = 1) -> None:
    line = order.lines.first()
    came = [services.Came(line=line.pk, good=packs, number="L1")]
    services.receive_delivery(by=site.by, order=order, came=came, key=f"came-{packs}")


def test_the_suppliers_word_is_written_once_with_what_he_said(site):
    order = site.issued()

    services.acknowledge_order(by=site.by, order=order, note="Comes a day earlier.")
    services.acknowledge_order(by=site.by, order=order, note="Again.")

    assert events(order) == [("issued", ""), ("acknowledged", "Comes a day earlier.")]


def test_a_cancelled_order_gives_its_demand_back_and_is_expected_no_more(site):
    order = site.issued()

    services.cancel_order(by=site.by, order=order, reason="The builder stopped the house.")
    services.cancel_order(by=site.by, order=order, reason="Pressed twice.")

    assert events(order)[1:] == [("cancelled", "The builder stopped the house.")]
    assert live(order) == 0
    again = site.draft()
    # all of it is open again, and nothing of it is on its way
    assert again.total_cents == 189_90
    assert issue(again, by=site.by, key="form-2").number[-3:] == "002"
    assert broken(site) == []


def test_what_came_before_the_rest_was_cancelled_stays_in_stock(site):
    order = site.issued()
    receive(site, order)

    services.cancel_order(by=site.by, order=order, reason="The rest is not on sale.")

    again = site.draft()
    # 189.90 without the first line, which lies in the shop
    first = order.lines.first()
    assert first.material not in bought(again)
    assert again.total_cents == 189_90 - first.total_cents
    assert broken(site) == []


def test_what_is_over_is_not_cancelled_confirmed_or_changed(site):
    order = site.issued()
    for line in order.lines.all():
        came = [services.Came(line=line.pk, good=line.packs)]
        services.receive_delivery(by=site.by, order=order, came=came, key=f"came-{line.pk}")

    for move in (
        lambda: services.cancel_order(by=site.by, order=order, reason="Too late."),
        lambda: services.acknowledge_order(by=site.by, order=order),
        lambda: services.draft_change(by=site.by, order=order),
    ):
        with pytest.raises(OrderMoved) as refused:
            move()
        assert refused.value.parameters["state"] == "closed"


def test_a_draft_and_an_order_without_a_reason_are_not_cancelled(site):
    draft = site.draft()
    with pytest.raises(OrderMoved):
        services.cancel_order(by=site.by, order=draft, reason="None.")
    order = issue(draft, by=site.by)
    with pytest.raises(BadValue, match="Reason"):
        services.cancel_order(by=site.by, order=order, reason=" ")
    assert events(order) == [("issued", "")]


def test_a_change_brings_all_that_is_needed_now_in_the_orders_place(site):
    order = site.issued()
    site.widen("W1", 48)

    draft = services.draft_change(by=site.by, order=order)

    # sill and head 66.5 instead of 54.5: 480 in of 600; pans 97 in of 600; 324 in of bead: 73.16 in3, where
    # four cartridges hold 72.91: one more at 9.00. Screws 36 of 500, shims 34 of 50, foam of one can
    assert draft.total_cents == 198_90
    assert bought(draft)["sealant"] == (5, "cartridge-10.1oz", "45.00")
    # until it is issued the order stands: nothing is covered twice, nothing is short
    assert (live(order), live(draft)) == (16, 0)
    changed = issue(draft, by=site.by, key="form-2")
    assert changed.number == f"{order.number}-1"
    assert [kind for kind, _ in events(order)] == ["issued", "changed"]
    assert (live(order), live(changed)) == (0, 16)
    assert growth_of(changed).differences == ()
    assert site_is_covered(site)
    assert broken(site) == []


def site_is_covered(site) -> bool:
    return services.make_drafts(by=site.by, week=site.monday).orders == ()


def test_the_change_says_line_by_line_what_is_other_than_before(site):
    order = site.issued()
    site.widen("W1", 48)

    draft = services.draft_change(by=site.by, order=order)

    told = {
        each.line.material: (each.was, each.line.packs, each.standing)
        for each in changes_shown(order_of(site.by.company, draft.pk))
    }
    assert told.pop("sealant") == (4, 5, Standing.REVISED)
    assert {standing for _, _, standing in told.values()} == {Standing.SAME}
    assert len(told) == 7


def test_a_change_lets_go_of_what_is_not_needed_any_more(site):
    order = site.issued()
    remove_opening(by=site.by, opening=site.opening("W2"))

    draft = services.draft_change(by=site.by, order=order)

    # two pan corners less, 3.20; 186 in of bead: 42.0 in3, three cartridges instead of four, 9.00 less
    assert draft.total_cents == 189_90 - 3_20 - 9_00
    issue(draft, by=site.by, key="form-2")
    assert site_is_covered(site)
    assert broken(site) == []


def test_a_change_of_a_change_counts_on(site):
    order = site.issued()
    site.widen("W1", 48)
    first = issue(services.draft_change(by=site.by, order=order), by=site.by, key="form-2")
    site.widen("W1", 36)

    second = issue(services.draft_change(by=site.by, order=first), by=site.by, key="form-3")

    assert second.number == f"{order.number}-2"
    assert second.total_cents == 189_90
    with pytest.raises(OrderMoved):
        services.draft_change(by=site.by, order=order)
    # the next order of the year has the next number
    services.cancel_order(by=site.by, order=second, reason="To order anew.")
    assert issue(site.draft(), by=site.by, key="form-4").number[-3:] == "002"
    assert broken(site) == []


def test_asked_for_again_the_change_is_made_anew(site):
    order = site.issued()
    site.widen("W1", 48)
    first = services.draft_change(by=site.by, order=order)
    site.widen("W1", 36)
    with pytest.raises(DraftIsStale):
        issue(first, by=site.by, key="form-2")

    second = services.draft_change(by=site.by, order=order)

    assert second.total_cents == 189_90
    assert list(PurchaseOrder.objects.filter(number=None)) == [second]


def test_of_two_who_change_and_cancel_the_second_is_told(site):
    order = site.issued()
    site.widen("W1", 48)
    draft = services.draft_change(by=site.by, order=order)
    services.cancel_order(by=site.by, order=order, reason="Not needed.")
    # the draft is gone with the order that it was to change
    with pytest.raises(DraftIsStale):
        issue(draft, by=site.by, key="form-2")

    other = issue(site.draft(), by=site.by, key="form-3")
    site.widen("W1", 60)
    change = issue(services.draft_change(by=site.by, order=other), by=site.by, key="form-4")
    with pytest.raises(OrderMoved):
        services.cancel_order(by=site.by, order=other, reason="Too late.")
    with pytest.raises(AlreadyIssued):
        issue(change, by=site.by, key="form-5")


def test_a_discarded_change_leaves_the_order_as_it_was(site):
    order = site.issued()
    site.widen("W1", 48)
    draft = services.draft_change(by=site.by, order=order)

    services.discard_draft(by=site.by, order=draft)

    assert live(order) == 16
    assert [kind for kind, _ in events(order)] == ["issued"]


def test_where_nothing_is_needed_the_order_is_to_be_cancelled(site):
    order = site.issued()
    for mark in ("W1", "W2"):
        remove_opening(by=site.by, opening=site.opening(mark))

    with pytest.raises(NothingLeft):
        services.draft_change(by=site.by, order=order)


def test_what_was_bought_for_the_shelf_is_kept_in_the_change(site):
    # 24 cartridges are to stay: 24 x 18.227 + 67.74 in3 are 27.7 of them, with the wider window 28.01
    services.set_minimum(by=site.by, material="sealant", quantity=24 * cartridge())
    order = site.issued()
    site.widen("W1", 48)

    draft = services.draft_change(by=site.by, order=order)

    packs = [(line.pack, line.packs) for line in order.lines.filter(material="sealant")]
    now = [(line.pack, line.packs) for line in draft.lines.filter(material="sealant")]
    assert (tubes(packs), tubes(now)) == (28, 29)


def cartridge() -> int:
    return load_catalogue().material("sealant").pack("cartridge-10.1oz").contains


def tubes(packs) -> int:
    return sum(
        {"cartridge-10.1oz": 1, "case-12": 12, "sausage-20oz": 2}[pack] * count for pack, count in packs
    )


def test_only_the_office_follows_its_own_orders(site, foreman, stranger):
    order = site.issued()
    moves = (
        lambda by: services.cancel_order(by=by, order=order, reason="x"),
        lambda by: services.acknowledge_order(by=by, order=order),
        lambda by: services.draft_change(by=by, order=order),
    )
    for move in moves:
        with pytest.raises(NotAllowed):
            move(foreman)
        with pytest.raises(NotThere):
            move(stranger)
