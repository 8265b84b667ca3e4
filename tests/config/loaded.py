"""The demo, loaded once for the tests of a module and rolled back after them."""

from __future__ import annotations

import json
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import transaction

from projects.models import Company

CODE = "QUILLMOOR"


def run(*arguments: str) -> tuple[dict, int]:
    """Return a command's JSON document and exit code."""
    out, code = StringIO(), 0
    try:
        call_command(*arguments, "--json", stdout=out, stderr=StringIO())
    except SystemExit as leave:
        code = int(leave.code or 0)
    return json.loads(out.getvalue()), code


def company() -> Company:
    return Company.objects.get(code=CODE)


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker):
    """Hold the demo for the whole module; each test still takes back what it writes itself."""
    with django_db_blocker.unblock(), transaction.atomic():
        answer, code = run("demo", "load")
        assert code == 0
        with django_db_blocker.block():
            yield answer
        transaction.set_rollback(True)
