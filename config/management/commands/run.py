"""Serve Lapwise on this machine: migrate, load the demo where there is nothing, start web and worker."""

from __future__ import annotations

import os
import socket
import sys
from io import StringIO
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from config.processes import Together
from projects.models import Company

DEFAULT_PORT = 8000


class Command(BaseCommand):
    """Run web and worker until one of them ends or somebody stops them."""

    help = "Serve on this machine: PORT and HOST choose the address, Ctrl-C stops."
    requires_system_checks: list[str] = []  # checked below, once the database is there

    def handle(self, *args: Any, **options: Any) -> None:
        """Prepare the database, then run both programs; leave with the exit code of the first that ended."""
        host, port = address()
        refuse_taken_port(host, port)
        call_command("migrate", verbosity=0)
        call_command("check", databases=["default"], stdout=StringIO())
        self._load_demo_into_an_empty_database()
        environment = {"HOST": host, "PORT": str(port)}
        code = Together(programs=programs(), environment=environment).run()
        if code:
            sys.exit(code)
        self.stdout.write("Lapwise has stopped.")

    def _load_demo_into_an_empty_database(self) -> None:
        if os.environ.get("WITHOUT_DEMO") or Company.objects.exists():
            return
        self.stdout.write("Loading the demo: an invented contractor, its houses and crews.")
        self.stdout.flush()
        call_command("demo", "load")
        sys.stdout.flush()  # it names who signs in: before the address, also where nobody reads line by line


def address() -> tuple[str, int]:
    """Return where to serve, from HOST and PORT. Raises CommandError where PORT is no port."""
    port = os.environ.get("PORT") or str(DEFAULT_PORT)
    if not port.isdecimal() or not 0 < int(port) < 65536:
        raise CommandError(f"PORT is {port}, which is no port. Give a number from 1 to 65535.", returncode=2)
    return os.environ.get("HOST") or "127.0.0.1", int(port)


def refuse_taken_port(host: str, port: int) -> None:
    """Raise CommandError where another program listens there already."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as reason:
            remedy = f"Choose another: PORT={port + 1} make run"
            raise CommandError(f"{host}:{port} can't be served: {reason.strerror}. {remedy}") from reason


def programs() -> dict[str, list[str]]:
    """Return the two programs: the web server, and the worker with its own clock."""
    python = [sys.executable, "-m"]
    clock = settings.VAR / "clock"
    return {
        "web": [*python, "gunicorn", "--config", "config/gunicorn.py", "config.wsgi"],
        "worker": [
            *python,
            "celery",
            "--app",
            "config.celery",
            "--quiet",
            "worker",
            "--beat",
            "--schedule",
            str(clock),
            "--concurrency",
            "2",
            "--loglevel",
            "warning",
        ],
    }
