"""The order as the supplier gets it: drawn by the task, with what was issued and nothing else."""

from __future__ import annotations

from datetime import UTC, datetime
from io import BytesIO

import pikepdf
import pytest
import time_machine

from materials.documents import order_pdf, order_sheet
from materials.selectors.orders import order_of
from materials.services.issuing import request_pdf
from projects import jobs
from projects.models import Job
from projects.tasks import run_job
from tests.materials.orders.building import issue

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def html(order):
    return order_sheet(order_of(order.company, order.pk))


def test_issued_order_is_drawn_by_its_job(site):
    order = site.issued()
    job = Job.objects.get()

    run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, job.error) == ("done", "")
    assert job.file_name == f"order-{order.number}.pdf"
    content = jobs.path_of(job).read_bytes()
    with pikepdf.open(BytesIO(content)) as document:
        assert str(document.docinfo.Title) == f"Order {order.number} to Thistle Supply"
        assert str(document.Root.Lang) == "en"
        assert len(document.pages) == 1


def test_asking_again_finds_the_same_pdf(site):
    order = site.issued()
    run_job(Job.objects.get().pk)

    again = request_pdf(by=site.by, order=order)

    assert again.state == "done"
    assert Job.objects.count() == 1


def test_every_line_and_the_total_stand_in_it(site):
    told = html(site.issued())

    for words in ["Flashing membrane 9 in", "roll of 50 ft", "cartridge of 10.1 fl oz", "single piece"]:
        assert words in told
    for amount in ["$29.00", "$40.00", "$16.00", "$13.00", "$6.40", "$42.00", "$36.00", "$7.50", "$189.90"]:
        assert amount in told
    assert site.house.project.delivery_place in told
    assert "LOT-1" in told
    assert "dana@setters.example" in told


def test_draft_says_that_it_is_none(site):
    order = site.draft()

    document = order_pdf(order_of(order.company, order.pk))

    assert "Draft, not an order" in html(order)
    assert document.name == "draft-thistle.pdf"


def test_dates_are_the_companys_own(site):
    # 2 June 01:30 in London is 1 June in New York
    with time_machine.travel(datetime(2026, 6, 2, 1, 30, tzinfo=UTC)):
        order = issue(site.draft(), by=site.by)

    assert "1 June 2026" in html(order)


def test_names_are_text_and_never_markup(site):
    site.supplier.name = "<script>Thistle</script> & Sons"
    site.supplier.save()

    told = html(site.issued())

    assert "&lt;script&gt;Thistle" in told
    assert "<script>" not in told
