"""Loading a supplier's price list: seen first, all or nothing, and an issued order keeps its prices."""

from __future__ import annotations

import html
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from materials.models import Price
from materials.selectors.orders import local_today

pytestmark = pytest.mark.django_db


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def send(office, site, text):
    file = SimpleUploadedFile("spring.csv", text.encode())
    return office.post(reverse("price-list", args=[site.supplier.pk]), {"prices": file})


def load(office, site, page, **entry):
    seen = re.search(r'name="seen" value="([^"]+)"', page.content.decode())[1]
    address = reverse("price-list-load", args=[site.supplier.pk])
    return office.post(address, {"seen": html.unescape(seen), **entry}, follow=True)


def price_of(material, pack) -> int:
    return Price.objects.filter(material=material, pack=pack).latest("valid_from").price_cents


LIST = "material,pack,price\nshims,bundle-50,8.25\nfoam,can,13.00\nrigid-pan,piece,61.00\n"


def test_the_preview_says_what_is_new_changed_and_the_same_and_writes_nothing(office, site):
    before = Price.objects.count()

    page = send(office, site, LIST).content.decode()

    counts = re.findall(r"<dt>(\w+)[^<]*</dt><dd>(\d+)</dd>", page)
    # shims were 7.50, foam is 13.00 already, and nobody sold the rigid pan
    assert counts == [("New", "1"), ("Changed", "1"), ("Same", "1"), ("Refused", "0")]
    assert "$7.50" in page
    assert "$8.25" in page
    assert Price.objects.count() == before


def test_what_was_seen_is_loaded_and_loading_it_again_changes_nothing(office, site):
    page = send(office, site, LIST)

    first = load(office, site, page).content.decode()
    again = load(office, site, page).content.decode()

    assert "2 prices are loaded." in first
    assert "0 prices are loaded." in again
    assert price_of("shims", "bundle-50") == 825
    loaded = Price.objects.get(material="shims", pack="bundle-50", price_cents=825)
    assert (loaded.valid_from, loaded.grade, loaded.source) == (
        local_today(site.by.company),
        "P",
        "spring.csv",
    )


def test_an_issued_order_keeps_its_prices(office, site):
    issued = site.issued()
    before = {line.material: line.unit_price_cents for line in issued.lines.all()}

    load(office, site, send(office, site, LIST))

    assert {line.material: line.unit_price_cents for line in issued.lines.all()} == before
    assert (before["shims"], price_of("shims", "bundle-50")) == (750, 825)


def test_with_refused_rows_nothing_is_loaded_unless_it_is_said(office, site):
    page = send(office, site, LIST + "glue,bucket,4\n")
    assert "&#x27;glue&#x27; is no material of ours." in page.content.decode()

    refused = load(office, site, page).content.decode()
    assert "1 rows were refused, so nothing was loaded." in refused
    assert price_of("shims", "bundle-50") == 750

    load(office, site, page, keep_good_rows="on")
    assert price_of("shims", "bundle-50") == 825


def test_a_list_that_was_changed_on_its_way_or_is_anothers_is_not_loaded(office, site, stranger, client_of):
    page = send(office, site, LIST)
    seen = re.search(r'name="seen" value="([^"]+)"', page.content.decode())[1]
    address = reverse("price-list-load", args=[site.supplier.pk])

    answer = office.post(address, {"seen": f"{seen}x"}, follow=True).content.decode()
    other = client_of(stranger).post(address, {"seen": seen})

    assert "This preview is too old to load." in answer
    assert other.status_code == 404
    assert price_of("shims", "bundle-50") == 750


def test_todays_prices_as_a_list_come_back_the_same(office, site):
    handed = office.get(reverse("price-list-today", args=[site.supplier.pk]))
    assert handed["Content-Disposition"].startswith("attachment")
    lines = handed.content.decode().splitlines()
    sold = [line for line in lines[1:] if not line.endswith(",,,")]

    page = send(office, site, "\n".join([lines[0], *sold])).content.decode()

    assert len(sold) == Price.objects.count()
    assert f"<dt>Same</dt><dd>{len(sold)}</dd>" in page
    assert "Nothing of it can be loaded" in page
