"""Tells a worker that there is work. Losing a nudge loses nothing: the sweep finds the row."""

from __future__ import annotations

import logging
import sqlite3
import time
from functools import cache
from pathlib import Path

from celery import Celery
from django.conf import settings

log = logging.getLogger("lapwise.jobs")
RUN_JOB = "projects.run_job"
WAIT_SECONDS = 0.5  # for the connection and for each answer: no request hangs on the broker
ASK_AGAIN_SECONDS = 10.0
_EMBEDDED = "sqla+sqlite:///"
_last_seen: dict[str, float | bool] = {"at": 0.0, "down": False}


def nudge(job_id: int) -> bool:
    """Publish the job and return whether the broker took it; one that is away is logged, never raised."""
    try:
        _publisher().send_task(RUN_JOB, [job_id], retry=False)
    except Exception as error:  # each broker library raises its own; the row is safe
        log.warning("job %s waits for the sweep, the broker is away: %s", job_id, type(error).__name__)
        _note(down=True)
        return False
    _note(down=False)
    return True


def broker_is_down() -> bool:
    """Return whether background work is held up, asked of the broker at most every ten seconds."""
    if not _last_seen["at"] or time.monotonic() - _last_seen["at"] > ASK_AGAIN_SECONDS:
        _note(down=not _answers())
    return bool(_last_seen["down"])


def forget_what_was_seen() -> None:
    """Read the broker's address anew and ask it again next time."""
    _last_seen["at"] = 0.0
    _publisher.cache_clear()


def purge_delivered() -> int:
    """Delete what the embedded broker's file keeps of delivered messages; return how many."""
    address = settings.CELERY_BROKER_URL
    file = Path(address.removeprefix(_EMBEDDED))
    if not address.startswith(_EMBEDDED) or not file.exists():
        return 0
    with sqlite3.connect(file, timeout=WAIT_SECONDS) as connection:
        known = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'kombu_message'").fetchone()
        return connection.execute("DELETE FROM kombu_message WHERE visible = 0").rowcount if known else 0


@cache
def _publisher() -> Celery:
    app = Celery("lapwise-nudge", set_as_current=False)
    app.config_from_object("django.conf:settings", namespace="CELERY")
    if settings.CELERY_BROKER_URL.startswith("redis"):
        app.conf.broker_connection_timeout = WAIT_SECONDS
        app.conf.broker_transport_options = {
            **settings.CELERY_BROKER_TRANSPORT_OPTIONS,
            "socket_connect_timeout": WAIT_SECONDS,
            "socket_timeout": WAIT_SECONDS,
            "max_retries": 0,
        }
    return app


def _answers() -> bool:
    address = settings.CELERY_BROKER_URL
    if not address.startswith("redis"):
        return True
    import redis
    from redis.backoff import NoBackoff
    from redis.retry import Retry

    client = redis.Redis.from_url(
        address, socket_connect_timeout=WAIT_SECONDS, socket_timeout=WAIT_SECONDS, retry=Retry(NoBackoff(), 0)
    )
    try:
        return bool(client.ping())
    except redis.RedisError:
        return False
    finally:
        client.close()


def _note(*, down: bool) -> None:
    _last_seen.update(at=time.monotonic(), down=down)
