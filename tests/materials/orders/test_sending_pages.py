"""The order's page sends and shows what was sent; the supplier's form sets where to."""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials.models import Supplier
from projects.models import Job
from projects.tasks import run_job
from tests.materials.orders.test_sending import TO, issued

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def test_page_sends_and_then_shows_what_was_sent(office, site):
    order = issued(site)
    page = office.get(reverse("order", args=[order.pk])).content.decode()
    assert "Send to Thistle Supply" in page

    answer = office.post(reverse("order-send", args=[order.pk]), follow=True).content.decode()
    job = Job.objects.get(kind="order-send")
    run_job(job.pk)
    after = office.get(reverse("order", args=[order.pk])).content.decode()

    assert "Send to Thistle Supply" not in answer
    assert f'id="job-{job.pk}"' in answer
    assert f"Sent to <bdi>{TO}</bdi> by <bdi>Dana Whitlow</bdi>" in after
    assert "Total: 189.90 USD" in after
    assert reverse("job-file", args=[job.pk]) in after
    assert "Send to Thistle Supply" not in after
    message = office.get(reverse("job-file", args=[job.pk]))
    assert message["Content-Disposition"].startswith("attachment")


def test_page_asks_for_an_address_first(office, site):
    order = site.issued()

    page = office.get(reverse("order", args=[order.pk])).content.decode()
    refused = office.post(reverse("order-send", args=[order.pk]))

    assert reverse("supplier-edit", args=[site.supplier.pk]) in page
    assert "Send to Thistle Supply" not in page
    assert refused.status_code == 422
    assert "Thistle Supply has no e-mail address." in refused.content.decode()


def test_supplier_is_changed_by_its_form(office, site):
    address = reverse("supplier-edit", args=[site.supplier.pk])
    form = {
        "name": "Thistle & Co",
        "email": TO,
        "address": "12 Quarry Road\r\n\r\n Harrow ",
        "lead_days": "3",
        "freight": "18",
        "holidays": "2026-12-25\r\n2026-07-03",
    }

    bad = office.post(address, {**form, "minimum": "0", "email": "orders at thistle"})
    good = office.post(address, {**form, "minimum": "150.50"})

    assert bad.status_code == 422
    assert "email" in bad.context["form"].errors
    assert good.url == reverse("prices")
    site.supplier.refresh_from_db()
    row = site.supplier
    assert (row.name, row.email, row.address) == ("Thistle & Co", TO, "12 Quarry Road\nHarrow")
    assert (row.code, row.lead_days, row.minimum_cents) == ("THISTLE", 3, 150_50)
    assert (row.freight_cents, row.holidays) == (18_00, ["2026-07-03", "2026-12-25"])


def test_a_supplier_is_added_by_its_form_once(office, site):
    form = {"code": "ridgeway", "name": "Ridgeway", "lead_days": "1", "minimum": "0", "freight": "0"}

    first = office.post(reverse("supplier-add"), form)
    again = office.post(reverse("supplier-add"), form)
    odd = office.post(reverse("supplier-add"), {**form, "code": "OTHER", "holidays": "Christmas"})

    assert first.url == reverse("prices")
    assert again.context["form"].errors["code"] == ["Supplier code ridgeway is already used. Choose another."]
    assert "holidays" in odd.context["form"].errors
    assert Supplier.objects.of(site.by.company).count() == 2
