"""R10: without a broker an order is saved all the same, its PDF waits, and pages say so."""

from __future__ import annotations

import pytest
from django.db import transaction
from django.urls import reverse

from materials.models import PurchaseOrder
from projects import nudge
from projects.models import Job
from tests.factories.orders import DraftFactory
from tests.materials.orders.building import seen

pytestmark = pytest.mark.django_db(transaction=True)
BANNER = "PDFs are delayed"


@pytest.fixture
def no_broker(settings):
    settings.CELERY_BROKER_URL = "redis://127.0.0.1:1/0"
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {}
    nudge.forget_what_was_seen()
    yield
    nudge.forget_what_was_seen()


def issue(office, company):
    order = DraftFactory(company=company)
    entry = {"key": "form-1", "seen": seen(order)}
    answer = office.post(reverse("order-issue", args=[order.pk]), entry)
    order.refresh_from_db()
    return answer, order


def test_without_a_broker_the_order_is_issued_and_its_pdf_waits(no_broker, client_of, manager):
    office = client_of(manager)

    answer, order = issue(office, manager.company)

    assert answer.status_code == 302
    assert order.number is not None
    assert Job.objects.get().state == "queued"
    page = office.get("/projects/").content.decode()
    assert BANNER in page


def test_with_a_broker_no_page_speaks_of_delay(client_of, manager):
    nudge.forget_what_was_seen()
    office = client_of(manager)

    issue(office, manager.company)

    assert BANNER not in office.get("/projects/").content.decode()


def test_an_order_that_is_taken_back_asks_for_no_pdf(client_of, manager):
    order = DraftFactory(company=manager.company)

    with transaction.atomic():
        client_of(manager).post(
            reverse("order-issue", args=[order.pk]), {"key": "form-1", "seen": seen(order)}
        )
        transaction.set_rollback(True)

    assert not Job.objects.exists()
    assert PurchaseOrder.objects.get().number is None
