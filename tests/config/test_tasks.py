"""A broker may deliver twice: a task run again or beside itself leaves what one run leaves."""

from __future__ import annotations

import threading

import pytest
from django.apps import apps
from django.core import serializers
from django.db import connection

from config.celery import app
from projects.models import Job
from tests.factories.openings import OpeningFactory
from tests.factories.orders import DraftFactory

pytestmark = pytest.mark.django_db(transaction=True)
OURS = ("projects", "openings", "materials", "crews")


@pytest.fixture
def order_job(company, settings, tmp_path):
    """A company with a house to reckon and an order to draw."""
    settings.MEDIA_ROOT = tmp_path
    OpeningFactory(house__project__company=company)
    order = DraftFactory(company=company)
    return Job.objects.create(
        company=company, kind="order-pdf", input_hash="a1", arguments={"order": order.pk}
    )


# By task: what it is called with, where it takes anything.
ARGUMENTS = {
    "projects.run_job": lambda job: [job.pk],
    "projects.sweep_jobs": lambda job: [],
    "materials.keep_roll_ups": lambda job: [],
    "crews.request_due_sheets": lambda job: [],
}


def registered():
    app.loader.import_default_modules()
    return {name for name in app.tasks if not name.startswith("celery.") and not name.startswith("tests.")}


def everything():
    """Return all rows of all our tables as text."""
    rows = [
        row
        for name in OURS
        for model in apps.get_app_config(name).get_models()
        for row in model._default_manager.order_by("pk")
    ]
    return serializers.serialize("json", rows)


def test_every_task_is_tried():
    assert registered() == set(ARGUMENTS)


@pytest.mark.parametrize("name", sorted(ARGUMENTS))
def test_task_run_three_times_leaves_what_one_run_leaves(name, order_job):
    registered()
    arguments = ARGUMENTS[name](order_job)
    app.tasks[name](*arguments)
    once = everything()

    app.tasks[name](*arguments)
    app.tasks[name](*arguments)

    assert everything() == once


@pytest.mark.parametrize("name", sorted(ARGUMENTS))
def test_task_run_beside_itself_leaves_what_one_run_leaves(name, order_job):
    registered()
    arguments = ARGUMENTS[name](order_job)
    together, broke = threading.Barrier(2), []

    def run():
        together.wait()
        try:
            app.tasks[name](*arguments)
        except Exception as error:
            broke.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=run) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    beside = everything()
    app.tasks[name](*arguments)

    assert broke == []
    assert everything() == beside


def test_order_is_drawn_once_however_often_it_is_delivered(order_job, tmp_path):
    registered()
    for _ in range(3):
        app.tasks["projects.run_job"](order_job.pk)

    order_job.refresh_from_db()
    assert (order_job.state, order_job.attempts) == ("done", 1)
    assert len([path for path in tmp_path.rglob("*") if path.is_file()]) == 1
