"""Writers who receive deliveries on the web until they are told to stop, and note what was acknowledged."""

from __future__ import annotations

import http.client
import threading
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import count

from django.urls import reverse

from materials import services
from materials.models import PurchaseOrder
from tests.materials.orders.building import build, issue
from tests.materials.orders.web import Browser

_lots = count(10)
REFUSED = (OSError, http.client.HTTPException)  # nobody answers, or the answer ends in the middle


def orders_for(site, number: int) -> list[PurchaseOrder]:
    """Return so many issued orders, one for each writer: they do not wait for each other."""
    return [issue(draft, by=site.by, key=f"form-{draft.pk}") for draft in drafts_for(site, number)]


def drafts_for(site, number: int) -> list[PurchaseOrder]:
    """Return so many drafts, each for a house of its own."""
    # a week has one draft for all that nothing covers yet: so each house is drafted before the next is wanted
    services.make_drafts(by=site.by, week=site.monday)
    return [build(site.by, code=f"LOT-{next(_lots)}").draft() for _ in range(number)]


class Writer(threading.Thread):
    """Receives a pack of each order in turn; a form that is not answered is sent until it is."""

    def __init__(self, browser: Browser, orders: Sequence[PurchaseOrder]) -> None:
        super().__init__(daemon=True)
        self.browser, self.over = browser, threading.Event()
        self.acknowledged: list[str] = []
        self.statuses: Counter[int] = Counter()
        self.words = ""
        token = browser.form(reverse("order", args=[orders[0].pk]))
        self.forms = [(order.pk, {**token, f"good-{order.lines.first().pk}": "1"}) for order in orders]

    def run(self) -> None:
        while not self.over.is_set():
            order, form = self.forms[len(self.acknowledged) % len(self.forms)]
            self.send(order, {**form, "key": f"came-{order}-{len(self.acknowledged)}"})

    def send(self, order: int, form: dict[str, str]) -> None:
        while not self.over.is_set():
            try:
                status, _, text = self.browser.post(reverse("order-receive", args=[order]), form)
            except REFUSED:
                status, text = 0, ""
            self.statuses[status] += 1
            if status == 302:
                self.acknowledged.append(form["key"])
                return
            self.words = text or self.words
            time.sleep(0.05)


@contextmanager
def writing(browsers: Sequence[Browser], orders: Sequence[PurchaseOrder]) -> Iterator[list[Writer]]:
    """Let each write on orders of their own for as long as the block lasts."""
    working = [Writer(browser, orders[place :: len(browsers)]) for place, browser in enumerate(browsers)]
    for writer in working:
        writer.start()
    try:
        yield working
    finally:
        for writer in working:
            writer.over.set()
        for writer in working:
            writer.join()
