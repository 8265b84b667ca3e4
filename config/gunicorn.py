"""The web server: two processes of a few threads are enough for a contractor, and fit two cores."""

import os
from typing import Any

host = os.environ.get("HOST", "127.0.0.1")
port = os.environ.get("PORT", "8000")

bind = f"{host}:{port}"
workers = int(os.environ.get("WEB_CONCURRENCY", "2"))
worker_class = "gthread"
threads = 4
# loaded once, before the processes part: what is wrong with the settings ends the server at once
preload_app = True
timeout = 60
graceful_timeout = 10
max_requests = 5000
max_requests_jitter = 500
worker_tmp_dir = "/dev/shm" if os.path.isdir("/dev/shm") else None  # noqa: S108  # nosec B108 - memory, not disk
accesslog = None
loglevel = "warning"
proc_name = "lapwise"


def when_ready(server: Any) -> None:
    """Say where the pages are, once they are there."""
    shown = "127.0.0.1" if host == "0.0.0.0" else host  # noqa: S104  # nosec B104 - compared, not bound
    print(f"Lapwise is at http://{shown}:{port}", flush=True)
