"""The order in each form in which it leaves the house: as it was issued, whatever changes after."""

from __future__ import annotations

import csv
import io
import subprocess
import sys
from datetime import UTC, datetime

import pytest
import time_machine
from django.urls import reverse
from openpyxl import load_workbook

from materials import services
from materials.convert import order_value
from materials.documents import FORMS, order_file, order_pdf, order_sheet
from materials.models import PurchaseOrder
from materials.selectors.orders import order_of
from projects.errors import BadValue
from projects.models import Company
from projects.pdf import pdf_of
from tests.architecture.source import ROOT
from tests.materials.exchange.test_ubl import problems_of, texts
from tests.materials.orders.building import build, issue

pytestmark = pytest.mark.django_db
DRAWN_ELSEWHERE = """
import sys, django
django.setup()
from projects.pdf import pdf_of
sys.stdout.buffer.write(pdf_of(sys.stdin.read()))
"""


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def shown(order):
    return order_of(order.company, order.pk)


def everything_changes(site):
    """Change all that stands on an order and may change after it is issued."""
    site.supplier.name, site.supplier.address, site.supplier.email = (
        "Moved",
        "9 New Road",
        "new@moved.example",
    )
    site.supplier.save()
    Company.objects.update(name="Renamed", yard="Elsewhere", time_zone="Pacific/Auckland")
    site.by.user.name = "Somebody Else"
    site.by.user.save()
    site.house.code = "LOT-99"
    site.house.save()


def test_issued_order_is_valid_ubl_and_sums(site):
    order = site.issued()

    document = order_file(shown(order), "xml")

    assert problems_of(document.content) == []
    assert document.name == f"order-{order.number}.xml"
    # eight lines that come to 189.90: worked in test_golden.py
    assert texts(document.content, ".//cac:AnticipatedMonetaryTotal/cbc:PayableAmount") == ["189.90"]
    assert len(texts(document.content, ".//cac:LineItem/cbc:ID")) == 8
    assert texts(document.content, "cac:BuyerCustomerParty//cbc:ElectronicMail") == ["dana@setters.example"]


@pytest.mark.parametrize("form", FORMS)
def test_issued_order_reads_the_same_after_everything_changed(site, form):
    with time_machine.travel(datetime(2026, 6, 2, 1, 30, tzinfo=UTC), tick=False):
        order = site.issued()
        before = order_file(shown(order), form).content
        everything_changes(site)

        assert order_file(shown(order), form).content == before


def test_draft_goes_by_its_rows_until_it_is_issued(site):
    draft = site.draft()
    everything_changes(site)

    value = order_value(shown(draft).row, lines=draft.lines.all(), houses=shown(draft).houses)

    assert (value.seller.name, value.buyer.name, value.houses) == ("Moved", "Renamed", ("LOT-99",))
    assert draft.heading == {}


def test_order_that_was_issued_before_it_kept_a_heading_goes_by_its_rows(site):
    order = shown(site.issued())

    kept = order_value(order.row, lines=order.row.lines.all(), houses=order.houses)
    order.row.heading = {}

    assert order_value(order.row, lines=order.row.lines.all(), houses=order.houses) == kept


def test_pdf_is_drawn_byte_by_byte_the_same_in_another_process(site):
    order = site.issued()
    sheet = order_sheet(shown(order))
    here = order_pdf(shown(order)).content
    everything_changes(site)

    told = {"DJANGO_SETTINGS_MODULE": "config.settings.embedded", "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"}
    elsewhere = subprocess.run(
        [sys.executable, "-c", DRAWN_ELSEWHERE],
        input=sheet.encode(),
        capture_output=True,
        check=True,
        cwd=ROOT,
        env={"PATH": "/usr/bin:/bin", "SECRET_KEY": "k" * 50, **told},
    ).stdout

    assert order_sheet(shown(order)) == sheet
    assert elsewhere == here
    assert pdf_of(sheet.replace("189.90", "189.91")) != here


def test_address_that_no_form_can_carry_stops_the_issue(site):
    draft = site.draft()
    site.supplier.address = "12 Quarry\x07 Road"
    site.supplier.save()

    with pytest.raises(BadValue, match="The address of 'Thistle Supply' has a line break or a control"):
        issue(draft, by=site.by)

    draft.refresh_from_db()
    assert draft.number is None


def test_supplier_with_a_control_character_is_refused_at_entry(site):
    for values in (
        {"address": "12 Quarry\x07 Road"},
        {"email": "orders at thistle"},
        {"name": "This\x07tle"},
    ):
        told = {"code": "THISTLE", "name": "Thistle Supply", **values}
        with pytest.raises(BadValue):
            services.set_supplier(by=site.by, supplier=site.supplier, **told)

    site.supplier.refresh_from_db()
    assert (site.supplier.name, site.supplier.address, site.supplier.email) == ("Thistle Supply", "", "")


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_draft_and_order_can_be_taken_as_a_table(office, site, form):
    order = site.draft()
    address = reverse(f"order-{form}", args=[order.pk])

    draft = office.get(address)
    issued = issue(order, by=site.by)
    answer = office.get(address)

    assert draft["Content-Disposition"] == f'attachment; filename="draft-thistle.{form}"'
    assert answer["Content-Disposition"] == f'attachment; filename="order-{issued.number}.{form}"'
    assert answer["Content-Type"] == FORMS[form][0]
    if form == "csv":
        rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"), newline="")))
        told = [(row["order"], row["description"], int(row["packs"])) for row in rows]
    else:
        sheet = load_workbook(io.BytesIO(answer.content)).active
        told = [(row[0], row[8], row[11]) for row in list(sheet.values)[1:]]
    assert told == [(issued.number, line.description, line.packs) for line in issued.lines.all()]


def test_issued_order_can_be_taken_as_ubl_and_a_draft_not(office, site):
    order = site.draft()
    address = reverse("order-xml", args=[order.pk])

    refused = office.get(address)
    issue(order, by=site.by)
    answer = office.get(address)

    assert refused.status_code == 409
    assert problems_of(answer.content) == []
    assert answer["Content-Type"] == "application/xml"


def test_order_page_offers_each_form_once(office, site):
    order = site.draft()
    draft = office.get(reverse("order", args=[order.pk])).content.decode()
    issue(order, by=site.by)
    page = office.get(reverse("order", args=[order.pk])).content.decode()

    for form in FORMS:
        assert page.count(f'href="{reverse(f"order-{form}", args=[order.pk])}"') == 1
    assert reverse("order-csv", args=[order.pk]) in draft
    assert reverse("order-xml", args=[order.pk]) not in draft


def test_another_companys_order_is_not_there(office, stranger):
    foreign = build(stranger, code="LOT-9").issued()

    assert PurchaseOrder.objects.count() == 1
    for form in FORMS:
        assert office.get(reverse(f"order-{form}", args=[foreign.pk])).status_code == 404
