"""I3: whoever receives a delivery is killed at each of his statements to the database in turn."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from django.urls import reverse

from config.invariants.verify import verify
from materials.models import Delivery, DeliveryLine, Lot, Movement, OrderEvent, PurchaseOrder
from projects.models import AuditEntry
from tests.architecture.source import ROOT
from tests.crashes.receiving import orders_for
from tests.materials.orders.web import database_url

WHOLE = {"delivery": 1, "lines": 1, "lot": 1, "movement": 1, "event": 1, "audit": 1}
NOTHING = dict.fromkeys(WHOLE, 0)


@dataclass(frozen=True)
class Told:
    """How many statements there were and what was answered; None where he did not live to hear it."""

    statements: int = 0
    status: int | None = None


class Receiver:
    """Who sends forms of what came."""

    def __init__(self, process: subprocess.Popen[str], person: int) -> None:
        self._process, self._person = process, person

    def send(self, order: PurchaseOrder, *, at: int = 0, after: bool = False) -> Told:
        """Send the form of this order, always the same, and return what was heard of it."""
        form = {"key": f"came-{order.pk}", f"good-{order.lines.first().pk}": "1"}
        path = reverse("order-receive", args=[order.pk])
        told = {"person": self._person, "path": path, "form": form, "at": at, "after": after}
        assert self._process.stdin
        assert self._process.stdout
        self._process.stdin.write(f"{json.dumps(told)}\n")
        self._process.stdin.flush()
        heard = []
        while (line := self._process.stdout.readline().strip()) != ".":
            assert self._process.poll() is None, "the receiver has ended"
            heard.append(line)
        return Told(*map(int, heard[0].split())) if heard else Told()


@contextmanager
def a_receiver(site, folder: Path) -> Iterator[Receiver]:
    """Give somebody who receives on the tests' database."""
    environment = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "config.settings.embedded",
        "DATABASE_URL": database_url(),
        "VAR_FOLDER": str(folder),
        "REDIS_URL": "redis://127.0.0.1:1/0",  # nobody there: nothing but the database is written
    }
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.crashes.receiver"],
        cwd=ROOT,
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    try:
        yield Receiver(process, site.by.user.pk)
    finally:
        process.kill()
        process.wait()


def there_of(order: PurchaseOrder) -> dict[str, int]:
    """Return what the database has of the order's delivery."""
    return {
        "delivery": Delivery.objects.filter(order=order).count(),
        "lines": DeliveryLine.objects.filter(line__order=order, good=1).count(),
        "lot": Lot.objects.filter(line__order=order).count(),
        "movement": Movement.objects.filter(lot__line__order=order, kind="receive").count(),
        "event": OrderEvent.objects.filter(order=order, kind="part delivered").count(),
        "audit": AuditEntry.objects.filter(action="receive delivery", subject_name=order.number).count(),
    }


@dataclass
class Kills:
    """How the kills left the database: with nothing of the delivery, or with all of it."""

    statements: int = 0
    nothing: int = 0
    whole: int = 0
    answered: list[PurchaseOrder] = field(default_factory=list)


def kill_at_statements(site, folder: Path, *, every: int) -> Kills:
    """Kill before each `every`-th statement, after the last, and not at all; send each form again.

    Nothing is half there, nothing is counted twice, and what was answered is there at the end.
    """
    kills = Kills()
    with a_receiver(site, folder) as receiver:
        # the company's first delivery makes its shop, so the second is like all that follow
        kills.answered += orders_for(site, 2)
        told = [receiver.send(order) for order in kills.answered][-1]
        assert told.status == 302
        kills.statements = told.statements
        points = [*((at, False) for at in range(1, told.statements + 1, every)), (told.statements, True)]
        for at, after in points:
            (order,) = orders_for(site, 1)
            assert receiver.send(order, at=at, after=after) == Told(), "nobody was killed"
            left = there_of(order)
            assert left in (NOTHING, WHOLE), f"half there after statement {at}: {left}"
            assert _broken(site) == []
            kills.nothing += left == NOTHING
            kills.whole += left == WHOLE
            assert receiver.send(order).status == 302
            assert receiver.send(order).status == 302
            assert there_of(order) == WHOLE
            kills.answered.append(order)
    assert [there_of(order) for order in kills.answered] == [WHOLE] * len(kills.answered)
    assert _broken(site) == []
    return kills


def _broken(site) -> list[str]:
    return [found.code for found in verify([site.by.company]) if not found.holds]
