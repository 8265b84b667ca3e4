"""Whether the process answers, and whether it can do its work: for the machines that watch it."""

from __future__ import annotations

import shutil
from datetime import timedelta

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from projects.access import without_sign_in
from projects.models import Job

LEAST_FREE_DISK_PERCENT = 10
LONGEST_WAIT = timedelta(minutes=5)


@without_sign_in
@require_safe
def alive(request: HttpRequest) -> JsonResponse:
    """Answer that the process runs."""
    return JsonResponse({"status": "ok"})


@without_sign_in
@require_safe
def ready(request: HttpRequest) -> JsonResponse:
    """Answer whether database, migrations, disk and background work are in order; 503 where one is not."""
    try:
        found = {"database": True, "migrations": _is_migrated(), "disk": _has_room(), "jobs": _jobs_move()}
    except DatabaseError:
        found = {"database": False, "disk": _has_room()}
    fine = all(found.values())
    return JsonResponse({"status": "ok" if fine else "not ready", **found}, status=200 if fine else 503)


def _is_migrated() -> bool:
    executor = MigrationExecutor(connection)
    return not executor.migration_plan(executor.loader.graph.leaf_nodes())


def _has_room() -> bool:
    settings.MEDIA_ROOT.mkdir(parents=True, exist_ok=True)
    disk = shutil.disk_usage(settings.MEDIA_ROOT)
    return disk.free * 100 >= disk.total * LEAST_FREE_DISK_PERCENT


def _jobs_move() -> bool:
    longest = timezone.now() - LONGEST_WAIT
    return not Job.objects.filter(state=Job.State.QUEUED, created_at__lt=longest).exists()
