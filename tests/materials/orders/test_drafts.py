"""A week's drafts: made once, from what is not covered, discarded and made again."""

from __future__ import annotations

from datetime import timedelta

import pytest

from materials import services
from materials.errors import IssuedStays, NoPrices
from materials.models import Coverage, OrderLine, Price, PurchaseOrder
from materials.selectors.orders import local_today
from openings.services import remove_opening
from projects import services as projects
from projects.errors import NotAllowed, NotThere
from projects.models import AuditEntry
from projects.quantities.money import Money
from projects.selectors import elevations_of
from tests.factories.houses import ProjectFactory
from tests.materials.orders.building import build, issue, set_price

pytestmark = pytest.mark.django_db


def counts():
    return PurchaseOrder.objects.count(), OrderLine.objects.count(), Coverage.objects.count()


def test_second_call_makes_nothing(site):
    site.draft()
    before = counts()

    again = services.make_drafts(by=site.by, week=site.monday + timedelta(days=4))

    assert again.orders == ()
    assert counts() == before == (1, 8, 16)


def test_only_what_is_new_since_goes_into_another_draft(site):
    first = site.draft()
    second_house = build(site.by, code="LOT-2")

    (second,) = services.make_drafts(by=site.by, week=site.monday).orders

    covered = Coverage.objects.filter(line__order=second).values_list("opening__house__code", flat=True)
    assert set(covered) == {second_house.house.code}
    assert Coverage.objects.filter(line__order=first).count() == 16


def test_houses_that_are_not_named_are_left_for_later(site):
    other = build(site.by, code="LOT-2")

    drafts = services.make_drafts(by=site.by, week=site.monday, houses=[other.house])

    covered = Coverage.objects.values_list("opening__house__code", flat=True)
    assert len(drafts.orders) == 1
    assert set(covered) == {"LOT-2"}


def test_week_without_a_need_brings_nothing(site):
    drafts = services.make_drafts(by=site.by, week=site.monday - timedelta(days=7))

    assert (drafts.orders, drafts.shortages, drafts.problems) == ((), (), ())
    assert counts() == (0, 0, 0)


def test_without_prices_nothing_is_ordered_and_it_is_said(site):
    Price.objects.all().delete()

    with pytest.raises(NoPrices):
        site.draft()

    assert counts() == (0, 0, 0)


def test_what_nobody_sells_is_named_and_stays_open(site):
    Price.objects.filter(material="shims").delete()

    drafts = services.make_drafts(by=site.by, week=site.monday)

    assert [(short.material, short.comes) for short in drafts.shortages] == [("shims", None)]
    assert not Coverage.objects.filter(material="shims").exists()


def test_discarded_draft_gives_its_demand_back(site):
    order = site.draft()

    services.discard_draft(by=site.by, order=order)

    assert counts() == (0, 0, 0)
    assert site.draft().total_cents == 189_90
    assert AuditEntry.objects.filter(action="discard draft", subject_id=order.pk).exists()


def test_issued_order_is_not_discarded(site):
    order = site.issued()

    with pytest.raises(IssuedStays):
        services.discard_draft(by=site.by, order=order)

    assert counts() == (1, 8, 16)


def test_houses_of_two_places_are_delivered_to_the_yard(site, owner):
    company = projects.edit_company(
        by=owner,
        version=None,
        name=site.by.company.name,
        time_zone=site.by.company.time_zone,
        sheets_hour=18,
        yard="9 Saltern Road",
    )
    elsewhere = build(site.by, code="LOT-2")
    elsewhere.house.project.delivery_place = "4 Quarry Lane"
    elsewhere.house.project.save()
    site.by.company.refresh_from_db()

    both = site.draft()

    assert both.deliver_to == company.yard == "9 Saltern Road"
    assert both.project is None
    assert set(both.specification) == {site.house.project.code, elsewhere.house.project.code}


def test_monday_morning_is_delivered_on_friday_evening(site):
    services.set_need_dates(by=site.by, elevations=list(elevations_of(site.house)), day=site.monday)

    order = site.draft()

    assert order.deliver_by == site.monday - timedelta(days=3)


def test_foreman_and_strangers_make_no_drafts(site, foreman, stranger):
    foreign = ProjectFactory(company=stranger.company)
    assert foreign.company != site.by.company

    with pytest.raises(NotAllowed):
        services.make_drafts(by=foreman, week=site.monday)
    with pytest.raises(NotThere):
        services.make_drafts(by=stranger, week=site.monday, houses=[site.house])

    assert counts() == (0, 0, 0)


def test_removed_window_is_not_ordered_for(site):
    remove_opening(by=site.by, opening=site.opening("W2"))

    order = site.draft()

    marks = Coverage.objects.filter(line__order=order).values_list("opening__mark", flat=True)
    assert set(marks) == {"W1"}


def test_new_price_leaves_the_order_that_used_the_old_one(site):
    old = issue(site.draft(), by=site.by)
    today = local_today(site.by.company)
    set_price(site.by, site.supplier, "shims", "bundle-50", Money.of("9.00"), valid_from=today)
    other = build(site.by, code="LOT-2")

    (new,) = services.make_drafts(by=site.by, week=site.monday, houses=[other.house]).orders

    old.refresh_from_db()
    assert old.lines.get(material="shims").unit_price_cents == 7_50
    assert old.total_cents == 189_90
    assert new.lines.get(material="shims").unit_price_cents == 9_00
