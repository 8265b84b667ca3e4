#!/usr/bin/env python3
"""Answers a container's health check: `healthy.py web|worker|beat`, exit 0 where that program works."""

from __future__ import annotations

import os
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable
from pathlib import Path

LONGEST_SILENCE = 300.0  # beat writes its schedule every three minutes
CLOCK = Path(os.environ.get("CLOCK", "/tmp/clock"))  # noqa: S108  # nosec B108 - the container's own


def web() -> bool:
    """Return whether the web server answers and can do its work."""
    address = f"http://127.0.0.1:{os.environ.get('PORT', '8000')}/readyz"
    host = os.environ["ALLOWED_HOSTS"].split(",")[0].lstrip(".")
    request = urllib.request.Request(address, headers={"Host": host})
    with urllib.request.urlopen(request, timeout=4) as answer:  # noqa: S310  # nosec B310 - our own address
        return bool(answer.status == 200)


def worker() -> bool:
    """Return whether this container's worker answers its broker."""
    name = f"celery@{os.uname().nodename}"
    command = [
        "celery",
        "--app",
        "config.celery",
        "inspect",
        "ping",
        "--destination",
        name,
        "--timeout",
        "10",
    ]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def beat() -> bool:
    """Return whether the clock runs: its process is there and its schedule was written lately."""
    os.kill(int(CLOCK.with_suffix(".pid").read_text()), 0)
    written = max(file.stat().st_mtime for file in CLOCK.parent.glob(f"{CLOCK.name}*"))
    return time.time() - written < LONGEST_SILENCE


CHECKS: dict[str, Callable[[], bool]] = {"web": web, "worker": worker, "beat": beat}

if __name__ == "__main__":
    try:
        healthy = CHECKS[sys.argv[1]]()
    except (OSError, ValueError) as reason:
        sys.exit(f"{sys.argv[1]}: {reason}")
    sys.exit(0 if healthy else f"{sys.argv[1]} does not answer")
