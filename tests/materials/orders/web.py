"""The real web server in processes of its own, on the tests' database, and a browser's few motions."""

from __future__ import annotations

import http.cookiejar
import os
import re
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager

from django.conf import settings
from django.db import connection
from django.test import Client

from tests.architecture.source import ROOT

TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="([^"]+)"')


def database_url() -> str:
    """Return the tests' database as a server is told of it."""
    told = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:///{told['NAME']}"
    user, word = urllib.parse.quote(told["USER"]), urllib.parse.quote(told["PASSWORD"] or "")
    return f"postgres://{user}:{word}@{told['HOST'] or 'localhost'}:{told['PORT'] or 5432}/{told['NAME']}"


def free_port() -> int:
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return int(door.getsockname()[1])


@contextmanager
def serving(folder: str, *, processes: int = 3, **changes: str) -> Iterator[str]:
    """Serve the application, and yield its address."""
    with running_server(folder, processes=processes, **changes) as (address, _):
        yield address


@contextmanager
def running_server(
    folder: str, *, processes: int = 3, **changes: str
) -> Iterator[tuple[str, subprocess.Popen[bytes]]]:
    """Serve the application, and yield its address and the server, whose children do the work."""
    port = free_port()
    environment = {
        **{name: value for name, value in os.environ.items() if name not in {"REDIS_URL", "VAR_FOLDER"}},
        "DJANGO_SETTINGS_MODULE": "config.settings.embedded",
        "DATABASE_URL": database_url(),
        "SECRET_KEY": settings.SECRET_KEY,
        "VAR_FOLDER": folder,
        "PORT": str(port),
        "WEB_CONCURRENCY": str(processes),
        **changes,
    }
    command = [sys.executable, "-m", "gunicorn", "--config", "config/gunicorn.py", "config.wsgi"]
    with subprocess.Popen(
        command,
        cwd=ROOT,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    ) as running:
        try:
            _wait_for(f"http://127.0.0.1:{port}/healthz", running)
            yield f"http://127.0.0.1:{port}", running
        finally:
            running.terminate()
            running.wait(timeout=30)


def _wait_for(address: str, running: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + 60
    while time.monotonic() < until and running.poll() is None:
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except OSError:
            time.sleep(0.1)
    raise AssertionError("the web server does not answer")


class _Stay(urllib.request.HTTPRedirectHandler):
    """A redirect is an answer here."""

    def redirect_request(self, *_: object) -> None:
        return None


class Browser:
    """A person's browser: signed in, with the cookies of one session."""

    def __init__(self, address: str, person: object) -> None:
        self.address = address
        inside = Client()
        inside.force_login(person.user)  # type: ignore[attr-defined]
        self._session = inside.cookies[settings.SESSION_COOKIE_NAME].value
        self._jar = http.cookiejar.CookieJar()
        self._opener = urllib.request.build_opener(_Stay, urllib.request.HTTPCookieProcessor(self._jar))

    def get(self, path: str) -> tuple[int, str, str]:
        """Return status, address it leads to, and text."""
        return self._ask(urllib.request.Request(f"{self.address}{path}"))

    def post(self, path: str, entry: dict[str, str]) -> tuple[int, str, str]:
        """Return the same of a form that is sent."""
        body = urllib.parse.urlencode(entry).encode()
        return self._ask(urllib.request.Request(f"{self.address}{path}", data=body))

    def form(self, path: str, *names: str) -> dict[str, str]:
        """Return a page's token and the hidden fields with these names, as its form would send them."""
        text = self.get(path)[2]
        found = TOKEN.search(text)
        assert found is not None, text[:400]
        fields = {
            name: re.search(rf'name="{name}" value="([^"]*)"', text)[1]  # type: ignore[index]
            for name in names
        }
        return {"csrfmiddlewaretoken": found[1], **fields}

    def _ask(self, request: urllib.request.Request) -> tuple[int, str, str]:
        cookies = "; ".join(f"{cookie.name}={cookie.value}" for cookie in self._jar)
        request.add_header("Cookie", f"{settings.SESSION_COOKIE_NAME}={self._session}; {cookies}")
        try:
            with self._opener.open(request, timeout=60) as answer:
                return answer.status, "", answer.read().decode()
        except urllib.error.HTTPError as answer:
            return answer.code, answer.headers.get("Location", ""), answer.read().decode()


def at_once(works: list) -> list:
    """Run each work in a thread of its own, all released together, and return what each gave."""
    together, given = threading.Barrier(len(works)), [None] * len(works)

    def run(place: int) -> None:
        together.wait()
        given[place] = works[place]()

    threads = [threading.Thread(target=run, args=(place,)) for place in range(len(works))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return given
