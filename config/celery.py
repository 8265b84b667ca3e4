"""The worker: which tasks there are, and what it does by the clock."""

from __future__ import annotations

import os
import sys
import warnings
from typing import Any

from celery import Celery
from celery.platforms import SecurityWarning
from celery.signals import worker_init, worker_ready
from django.core.exceptions import ImproperlyConfigured

# Celery warns root because pickled messages run as root: ours are JSON, which runs nothing.
warnings.filterwarnings("ignore", category=SecurityWarning)
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings.embedded")

ROLL_UP_SECONDS = 60
SHEETS_SECONDS = 300

app = Celery("lapwise")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()


@app.on_after_finalize.connect
def set_the_clock(sender: Celery, **_: Any) -> None:
    """Register what runs by itself."""
    from django.conf import settings

    sender.add_periodic_task(
        settings.JOB_SWEEP_SECONDS,
        sender.signature("projects.sweep_jobs"),
        name="sweep jobs",
        expires=settings.JOB_SWEEP_SECONDS,
    )
    sender.add_periodic_task(
        ROLL_UP_SECONDS,
        sender.signature("materials.keep_roll_ups"),
        name="keep roll-ups",
        expires=ROLL_UP_SECONDS,
    )
    # each company's own hour is asked for inside: it is in its own zone, whatever the clocks do
    sender.add_periodic_task(
        SHEETS_SECONDS,
        sender.signature("crews.request_due_sheets"),
        name="ask for due crew sheets",
        expires=SHEETS_SECONDS,
    )


@worker_init.connect
def refuse_at_start(**_: Any) -> None:
    """End a worker whose database could lose what it acknowledged."""
    from config.checks import refuse_unsafe_database

    try:
        refuse_unsafe_database()
    except ImproperlyConfigured as reason:
        sys.exit(str(reason))


@worker_ready.connect
def sweep_at_start(sender: Any = None, **_: Any) -> None:
    """Pick up what a killed worker left behind."""
    with sender.app.connection_for_write() as connection:
        sender.app.send_task("projects.sweep_jobs", connection=connection)
