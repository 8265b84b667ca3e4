"""A week too large to wait for is ordered in the background: once, all or nothing, and stopped if wanted."""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials.models import Coverage, PurchaseOrder
from materials.services import drafting
from projects import jobs
from projects.models import Job
from projects.tasks import run_job

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def small_weeks_are_large(monkeypatch):
    monkeypatch.setattr(drafting, "AT_ONCE", 1)


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def press(office, site, key="form-1"):
    return office.post(reverse("order-week-drafts", args=[site.monday]), {"key": key}, follow=True)


def test_the_press_answers_at_once_and_the_drafts_come_with_what_to_know(office, site):
    waiting = press(office, site).content.decode()
    (job,) = Job.objects.filter(kind="drafts")
    assert not PurchaseOrder.objects.exists()
    assert f"job-{job.pk}" in waiting
    assert "Make drafts for what is short" not in waiting

    run_job(job.pk)

    page = office.get(reverse("order-week", args=[site.monday])).content.decode()
    assert "1 draft is made." in page
    assert "Check the draft to Thistle Supply" in page
    assert PurchaseOrder.objects.get().created_by == site.by.user


def test_pressed_again_while_it_is_at_work_nothing_else_starts(office, site):
    press(office, site)
    press(office, site)
    press(office, site, key="form-2")

    assert Job.objects.filter(kind="drafts").count() == 1


def test_a_job_that_is_stopped_on_its_way_leaves_the_week_as_it_was(office, site, manager, monkeypatch):
    press(office, site)
    (job,) = Job.objects.filter(kind="drafts")
    run = jobs.claim(job.pk)
    made = drafting.make_drafts

    def stopped_meanwhile(**asked):
        drafts = made(**asked)
        assert drafts.orders
        jobs.cancel(by=manager, job=job)
        return drafts

    monkeypatch.setattr(drafting, "make_drafts", stopped_meanwhile)
    with pytest.raises(jobs.Superseded):
        drafting.carry_out(run)

    assert not PurchaseOrder.objects.exists()
    assert not Coverage.objects.exists()


def test_the_waiting_page_is_loaded_anew_when_the_drafts_are_there(office, site):
    press(office, site)
    (job,) = Job.objects.filter(kind="drafts")
    ask = {"HTTP_HX_REQUEST": "true"}

    before = office.get(reverse("job", args=[job.pk]), **ask)
    run_job(job.pk)
    after = office.get(reverse("job", args=[job.pk]), **ask)

    assert "HX-Refresh" not in before.headers
    assert after["HX-Refresh"] == "true"


def test_a_refusal_in_the_background_is_said_on_the_page(office, site):
    press(office, site)
    site.supplier.prices.all().delete()
    (job,) = Job.objects.filter(kind="drafts")

    run_job(job.pk)

    page = office.get(reverse("order-week", args=[site.monday])).content.decode()
    assert "No supplier has a price yet. Load a price list first." in page
    assert not PurchaseOrder.objects.exists()


def test_a_small_week_is_ordered_while_the_person_waits(office, site, monkeypatch):
    monkeypatch.setattr(drafting, "AT_ONCE", 400)

    assert "1 draft is made." in press(office, site).content.decode()
    assert not Job.objects.filter(kind="drafts").exists()
