"""R8: the web server's processes are killed while a form is worked on; the form sent again does it once."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from itertools import count

from django.urls import reverse

from config.invariants.verify import verify
from materials.models import CutList, Delivery, Movement, OrderEvent
from openings import services as openings
from openings.models import Opening
from projects.models import Job
from tests.crashes.killing import children_of, kill, wait_for_the_end
from tests.crashes.receiving import REFUSED, drafts_for, orders_for
from tests.factories.houses import HouseFactory
from tests.materials.orders.building import build
from tests.materials.orders.web import Browser, running_server

ROWS = 40
_lots = count(500)


@dataclass(frozen=True)
class Deed:
    """A form as a page shows it, what its second sending may answer, and how often its work is done."""

    path: str
    form: Mapping[str, str]
    answers: frozenset[int]
    results: Callable[[], tuple[int, ...]]
    wanted: tuple[int, ...]


def issue(dana: Browser, site) -> Deed:
    (draft,) = drafts_for(site, 1)
    form = dana.form(reverse("order", args=[draft.pk]), "key", "seen")
    return Deed(
        reverse("order-issue", args=[draft.pk]),
        form,
        frozenset({302}),
        lambda: (
            OrderEvent.objects.filter(order=draft, kind="issued").count(),
            Job.objects.filter(kind="order-pdf", arguments__order=draft.pk).count(),
        ),
        (1, 1),
    )


def take_over(dana: Browser, site) -> Deed:
    house = HouseFactory(project__company=site.by.company, code=f"LOT-{next(_lots)}")
    rows = "".join(f"Front,W{number},{20 + number % 30},48\n" for number in range(ROWS))
    content = f"elevation,mark,unit_width,unit_height\n{rows}".encode()
    sent = openings.start_import(by=site.by, house=house, file_name="lot.csv", content=content)
    return Deed(
        reverse("schedule-confirm", args=[sent.pk]),
        dana.form(reverse("schedule", args=[sent.pk])),
        frozenset({302, 409}),  # it was taken over already, and that is said
        lambda: (Opening.objects.filter(house=house).count(),),
        (ROWS,),
    )


def receive(dana: Browser, site) -> Deed:
    (order,) = orders_for(site, 1)
    path, line = reverse("order-receive", args=[order.pk]), order.lines.first()
    return Deed(
        path,
        {**dana.form(path, "key"), f"good-{line.pk}": "1"},
        frozenset({302}),
        lambda: (
            Delivery.objects.filter(order=order).count(),
            Movement.objects.filter(lot__line__order=order, kind="receive").count(),
        ),
        (1, 1),
    )


def cut(dana: Browser, site) -> Deed:
    house = build(site.by, code=f"LOT-{next(_lots)}").house
    # a list made anew replaces the first: the same strips, once
    return Deed(
        reverse("cut-list-house-make", args=[house.pk]),
        dana.form(reverse("cut-list-house", args=[house.pk])),
        frozenset({302}),
        lambda: (
            CutList.objects.filter(house=house).count(),
            sum(
                len(roll.strips)
                for made in CutList.objects.filter(house=house)
                for roll in made.rolls.filter(material="membrane-9in")
            ),
        ),
        (1, 8),  # two windows: sill, head and two jambs each
    )


DEEDS = (issue, take_over, receive, cut)


def kill_so_often(site, folder, dice, *, times: int) -> None:
    """Kill all its processes at a random moment of each deed in turn; nothing is half done, nothing twice."""
    with running_server(str(folder)) as (address, server):
        dana = Browser(address, site.by)
        for number in range(times):
            deed = DEEDS[number % len(DEEDS)](dana, site)
            pressed = threading.Thread(target=_press, args=(dana, deed))
            pressed.start()
            time.sleep(dice.uniform(0, 0.3))
            at_work = children_of(server.pid)
            kill(at_work)
            wait_for_the_end(at_work)
            pressed.join()
            assert deed.results() in {tuple(0 for _ in deed.wanted), deed.wanted}, "half done"
            assert _answer(dana, deed) in deed.answers
            assert deed.results() == deed.wanted
            assert [found.code for found in verify([site.by.company]) if not found.holds] == []


def _press(dana: Browser, deed: Deed) -> None:
    with suppress(REFUSED):
        dana.post(deed.path, dict(deed.form))


def _answer(dana: Browser, deed: Deed) -> int:
    """Return what the same form is answered, sent until there is an answer."""
    while True:
        try:
            return dana.post(deed.path, dict(deed.form))[0]
        except REFUSED:
            time.sleep(0.1)
