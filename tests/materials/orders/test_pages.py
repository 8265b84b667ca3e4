"""The pages of needs, orders and prices: what each role sees, what a form does, how many queries it takes."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from materials import services
from materials.models import NeedDate, Price, PurchaseOrder
from materials.selectors.orders import local_today
from materials.selectors.pages import next_week
from projects.selectors import elevations_of
from tests.factories.people import MembershipFactory
from tests.materials.orders.building import build, issue, seen

pytestmark = pytest.mark.django_db


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def form_of(page) -> dict[str, str]:
    """Return the hidden fields of the form that issues the order."""
    return dict(re.findall(r'name="(key|seen)" value="([^"]+)"', page.content.decode()))


def at(name, *arguments):
    return reverse(name, args=arguments)


def test_week_shows_needs_and_makes_the_drafts(office, site):
    page = office.get(at("order-week", site.monday))
    assert "Make drafts for what is short" in page.content.decode()

    answer = office.post(at("order-week-drafts", site.monday), follow=True)

    told = answer.content.decode()
    assert "1 draft is made." in told
    assert "Check the draft to Thistle Supply" in told
    assert "Make drafts for what is short" not in told
    assert PurchaseOrder.objects.count() == 1


def test_week_without_prices_says_what_comes_first(office, site):
    Price.objects.all().delete()

    answer = office.post(at("order-week-drafts", site.monday))

    assert answer.status_code == 422
    assert "No supplier has a price yet. Load a price list first." in answer.content.decode()
    assert not PurchaseOrder.objects.exists()


def test_any_day_leads_to_its_week(office, site):
    assert office.get(at("order-week", site.tuesday)).url == at("order-week", site.monday)


def test_draft_is_issued_by_its_form_once(office, site):
    draft = site.draft()
    page = office.get(at("order", draft.pk))
    assert "Issue order to Thistle Supply" in page.content.decode()
    form = form_of(page)

    first = office.post(at("order-issue", draft.pk), form, follow=True)
    again = office.post(at("order-issue", draft.pk), form, follow=True)

    draft.refresh_from_db()
    assert draft.number.endswith("-001")
    assert f"Order {draft.number} to Thistle Supply is issued." in first.content.decode()
    assert again.redirect_chain == first.redirect_chain
    assert "Issue order to" not in again.content.decode()


def test_same_form_with_other_lines_is_refused_in_words(office, site):
    draft = site.draft()
    form = form_of(office.get(at("order", draft.pk)))
    office.post(at("order-issue", draft.pk), form)

    answer = office.post(at("order-issue", draft.pk), {**form, "seen": "0" * 64})

    assert answer.status_code == 422
    assert "This form was already sent with other lines. Reload to see the order." in answer.content.decode()


def test_second_manager_reads_who_was_first(office, client_of, site, owner):
    draft = site.draft()
    late = form_of(client_of(owner).get(at("order", draft.pk)))
    office.post(at("order-issue", draft.pk), form_of(office.get(at("order", draft.pk))))

    answer = client_of(owner).post(at("order-issue", draft.pk), late)

    draft.refresh_from_db()
    assert answer.status_code == 409
    told = answer.content.decode()
    assert f"Dana Whitlow issued order {draft.number} at" in told
    assert 'role="alert"' in told


def test_stale_draft_offers_to_be_discarded_and_not_to_be_issued(office, site):
    draft = site.draft()
    form = form_of(office.get(at("order", draft.pk)))
    site.widen("W1", 48)

    page = office.get(at("order", draft.pk)).content.decode()
    answer = office.post(at("order-issue", draft.pk), form)

    assert "A house changed since this draft was made." in page
    assert "Issue order to" not in page
    assert answer.status_code == 409
    draft.refresh_from_db()
    assert draft.number is None


def test_discarding_leads_back_to_the_week(office, site):
    draft = site.draft()

    answer = office.post(at("order-discard", draft.pk))

    assert answer.url == at("order-week", site.monday)
    assert not PurchaseOrder.objects.exists()


def test_issued_order_shows_the_difference_and_makes_drafts_for_it(office, site):
    order = site.issued()
    assert "The houses still need what was ordered." in office.get(at("order", order.pk)).content.decode()
    site.widen("W1", 48)

    page = office.get(at("order", order.pk)).content.decode()
    answer = office.post(at("order-difference", order.pk), follow=True)

    # two strips of 66 1/2 in are 11'-1"
    assert "Flashing membrane 9 in" in page
    assert "11&#x27;-1&quot;" in page
    assert "1 draft for the difference." in answer.content.decode()
    assert PurchaseOrder.objects.count() == 2


def test_week_says_what_grew_since_it_was_ordered(office, site):
    site.issued()
    site.widen("W1", 48)

    told = office.get(at("order-week", site.monday)).content.decode()

    # two screws more than were ordered
    assert "grew by 2: open its order" in told
    assert "Make drafts for what is short" not in told


def test_pdf_waits_with_a_bar_until_a_worker_has_drawn_it(office, site):
    order = site.issued()

    page = office.get(at("order", order.pk)).content.decode()

    assert "progress" in page


@pytest.mark.parametrize("name", ["orders", "prices", "home-orders"])
def test_foreman_and_crew_see_no_order_and_no_price(client_of, site, foreman, hand, name):
    site.draft()

    for person in (foreman, hand):
        answer = client_of(person).get(at(name))
        assert answer.status_code == 403
        assert "$" not in answer.content.decode()


def test_foreman_and_crew_see_and_touch_no_single_order(client_of, site, foreman, hand):
    draft = site.draft()
    form = {"key": "x", "seen": seen(draft)}

    for person in (foreman, hand):
        client = client_of(person)
        for answer in (
            client.get(at("order", draft.pk)),
            client.get(at("order-week", site.monday)),
            client.post(at("order-issue", draft.pk), form),
            client.post(at("order-discard", draft.pk)),
            client.post(at("order-difference", draft.pk)),
            client.post(at("order-pdf", draft.pk)),
        ):
            assert answer.status_code == 403
            assert "$" not in answer.content.decode()
    draft.refresh_from_db()
    assert draft.number is None


def test_takeoff_carries_no_price(client_of, site, foreman):
    page = client_of(foreman).get(at("house-takeoff", site.house.pk))

    assert page.status_code == 200
    assert "$" not in page.content.decode()


def test_another_companys_order_is_not_there(client_of, site, stranger):
    draft = site.draft()
    client = client_of(MembershipFactory(company=stranger.company))

    assert client.get(at("order", draft.pk)).status_code == 404
    assert client.post(at("order-issue", draft.pk), {"key": "x", "seen": seen(draft)}).status_code == 404
    assert client.get(at("need-dates", site.house.pk)).status_code == 404
    assert PurchaseOrder.objects.get().number is None


def test_need_dates_are_set_changed_and_taken_away(office, site):
    (face,) = elevations_of(site.house)
    address, name = at("need-dates", site.house.pk), f"day-{face.pk}"

    def post(day: str):
        version = office.get(address).context["form"]["version"].value()
        return office.post(address, {name: day, "version": version})

    post((site.tuesday + timedelta(days=1)).isoformat())
    assert NeedDate.objects.get().date == site.tuesday + timedelta(days=1)
    post("")
    assert not NeedDate.objects.exists()
    refused = post("soon")

    assert refused.status_code == 422
    assert "Write it as 2026-06-08." in refused.content.decode()
    assert not NeedDate.objects.exists()


def test_new_price_holds_from_its_day_on(office, site):
    today = local_today(site.by.company)
    entry = {"supplier": site.supplier.pk, "pack": "shims/bundle-50", "price": "8.25", "source": "list 7"}

    office.post(at("price-add"), {**entry, "valid_from": (today + timedelta(days=1)).isoformat()})
    tomorrow = office.get(at("prices")).content.decode()
    office.post(at("price-add"), {**entry, "valid_from": today.isoformat()})
    now = office.get(at("prices")).content.decode()

    assert "$7.50" in tomorrow
    assert "$8.25" not in tomorrow
    assert "$8.25" in now
    assert Price.objects.filter(material="shims").count() == 3


@pytest.mark.parametrize("price", ["-1", "0.001", "dear", ""])
def test_price_that_is_none_is_refused_at_its_field(office, site, price):
    entry = {"supplier": site.supplier.pk, "pack": "shims/bundle-50", "valid_from": "2026-06-08"}

    answer = office.post(at("price-add"), {**entry, "price": price})

    assert answer.status_code == 422
    assert "price" in answer.context["form"].errors
    assert Price.objects.filter(material="shims").count() == 1


def many(site, count):
    """Make `count` houses of the week, each with an issued order and a draft's worth of need left."""
    for number in range(2, count + 1):
        other = build(site.by, code=f"LOT-{number}")
        (order,) = services.make_drafts(by=site.by, week=site.monday, houses=[other.house]).orders
        issue(order, by=site.by, key=f"form-{number}")


ADDRESSES = {
    "orders": lambda site: at("orders"),
    "week": lambda site: at("order-week", site.monday),
    "order": lambda site: at("order", PurchaseOrder.objects.order_by("pk").first().pk),
    "project orders": lambda site: at("project-orders", site.house.project.pk),
    "need dates": lambda site: at("need-dates", site.house.pk),
    "houses to finish": lambda site: at("home-houses"),
    "prices": lambda site: at("prices"),
}


def queries(client, address):
    with CaptureQueriesContext(connection) as taken:
        assert client.get(address).status_code == 200
    return len(taken)


def test_pages_take_as_many_queries_for_twenty_rows_as_for_one(office, site):
    site.issued()
    office.get("/")
    few = {page: queries(office, address(site)) for page, address in ADDRESSES.items()}

    many(site, 20)

    assert {page: queries(office, address(site)) for page, address in ADDRESSES.items()} == few
    # a week is netted against stock, open orders and what both promised; two queries say what fits
    assert few.pop("week") <= 18
    assert max(few.values()) <= 15


def test_next_week_begins_on_monday(site):
    first = next_week(site.by.company)

    assert first.weekday() == 0
    assert 0 < (first - local_today(site.by.company)).days <= 7
