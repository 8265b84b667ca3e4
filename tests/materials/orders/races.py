"""Races on the real web server, as often as is asked: a few rounds in every run, a thousand in a deep one."""

from __future__ import annotations

import random
import threading
from contextlib import suppress

from django.db import connection, transaction
from django.urls import reverse

from materials import services
from materials.models import Coverage, OrderEvent, PurchaseOrder
from projects.errors import UserError
from projects.models import Counter
from tests.factories.orders import DraftFactory
from tests.materials.orders.building import seen
from tests.materials.orders.web import Browser, at_once


class Rollback(Exception):
    """Takes an order back."""


def all_at_once(*works):
    """Run each work in a thread of its own, all released together; return what each gave or raised."""
    together, given = threading.Barrier(len(works)), [None] * len(works)

    def run(place, work):
        together.wait()
        try:
            given[place] = work()
        except UserError as refusal:
            given[place] = refusal
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(works)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return given


def issue_address(order):
    return reverse("order-issue", args=[order.pk])


def press_eight_times(web, site, *, rounds):
    """Press one form eight times at once and three times more: one order."""
    dana = Browser(web, site.by)

    for number in range(1, rounds + 1):
        draft = DraftFactory(company=site.by.company)
        page = reverse("order", args=[draft.pk])
        form = dana.form(page, "key", "seen")
        answers = at_once([lambda d=draft, f=form: dana.post(issue_address(d), f)] * 8)
        again = [dana.post(issue_address(draft), form) for _ in range(3)]

        assert {(status, leads) for status, leads, _ in [*answers, *again]} == {(302, page)}
        draft.refresh_from_db()
        assert draft.number.endswith(f"-{number:03d}")
        assert OrderEvent.objects.filter(order=draft).count() == 1


def press_both(web, site, otto, *, rounds):
    """Let two managers issue the same draft: one orders, one reads who did."""
    first, second = Browser(web, site.by), Browser(web, otto)

    for _ in range(rounds):
        draft = DraftFactory(company=site.by.company)
        page = reverse("order", args=[draft.pk])
        forms = [(person, person.form(page, "key", "seen")) for person in (first, second)]
        answers = at_once([lambda p=p, f=f, d=draft: p.post(issue_address(d), f) for p, f in forms])

        assert sorted(status for status, _, _ in answers) == [302, 409]
        draft.refresh_from_db()
        told = next(text for status, _, text in answers if status == 409)
        assert draft.issued_by.name in told
        assert draft.number in told


def draft_both(web, site, otto, *, rounds):
    """Let two managers draft the same week: one drafts."""
    first, second = Browser(web, site.by), Browser(web, otto)
    week, drafts = reverse("order-week", args=[site.monday]), reverse("order-week-drafts", args=[site.monday])

    for _ in range(rounds):
        forms = [(person, person.form(week)) for person in (first, second)]
        answers = at_once([lambda p=p, f=f: p.post(drafts, f) for p, f in forms])

        assert {status for status, _, _ in answers} == {302}
        assert (PurchaseOrder.objects.count(), Coverage.objects.count()) == (1, 16)
        services.discard_draft(by=site.by, order=PurchaseOrder.objects.get())


def number_many(manager, *, each):
    """Let eight issue so many each, every third of it taken back: no number lacks or doubles."""
    drafts = [DraftFactory(company=manager.company) for _ in range(8 * each)]
    chance = random.Random(7)
    shares = [drafts[place::8] for place in range(8)]

    def work(own):
        for draft in own:
            taken_back = chance.random() < 1 / 3
            with suppress(Rollback), transaction.atomic():
                services.issue_order(by=manager, order=draft, key=f"form-{draft.pk}", seen=seen(draft))
                if taken_back:
                    raise Rollback

    all_at_once(*[lambda own=own: work(own) for own in shares])

    numbers = sorted(PurchaseOrder.objects.exclude(number=None).values_list("number", flat=True))
    year = numbers[0][:4]
    assert 0 < len(numbers) < 8 * each
    assert numbers == [f"{year}-{place:03d}" for place in range(1, len(numbers) + 1)]
    assert Counter.objects.get(kind="order").last == len(numbers)
