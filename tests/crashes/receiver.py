"""`python -m tests.crashes.receiver`: a process that sends a form of what came, and is killed at a statement.

Each line on standard input is a JSON object: who sends which `form` to which `path`, and `at` which statement
to the database he is killed, before it is carried out; `at` 0 lets him live. `after` it: once it is carried
out. It says how many statements there were and what was answered, where he lived to hear it; then a dot.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from typing import Any


def main() -> None:
    import django

    django.setup()
    from config import urls  # noqa: F401  # read once, not by each that is killed

    for line in sys.stdin:
        number = os.fork()
        if number == 0:
            send(**json.loads(line))
            os._exit(0)
        os.waitpid(number, 0)
        say(".")


def say(line: str) -> None:
    os.write(1, f"{line}\n".encode())


class Counting:
    """Counts what goes to the database and ends the process at the statement it is told."""

    def __init__(self, at: int, *, after: bool) -> None:
        self.count, self.at, self.after = 0, at, after

    def __call__(self, execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        self.count += 1
        is_it = self.count == self.at
        if is_it and not self.after:
            end()
        done = execute(sql, params, many, context)
        if is_it:
            end()
        return done


def end() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def send(*, person: int, path: str, form: dict[str, str], at: int, after: bool) -> None:
    from django.db import connection
    from django.test import Client

    from projects.models import User

    client = Client(SERVER_NAME="localhost")
    client.force_login(User.objects.get(pk=person), "django.contrib.auth.backends.ModelBackend")
    counting = Counting(at, after=after)
    with connection.execute_wrapper(counting):
        answer = client.post(path, form)
    say(f"{counting.count} {answer.status_code}")


if __name__ == "__main__":
    main()
