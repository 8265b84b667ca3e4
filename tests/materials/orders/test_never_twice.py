"""R4, R5, A1: many at the same moment on the real web server, three processes of it; never two orders.

A short run: the full counts are a matter of patience. The control shows that it is the index that holds.
"""

from __future__ import annotations

import threading

import pytest
from django.db import IntegrityError, connection
from django.urls import reverse

from materials import services
from materials.models import Coverage, OrderEvent, OrderLine, PurchaseOrder
from projects.models import Role
from tests.factories.orders import DraftFactory
from tests.factories.people import MembershipFactory, UserFactory
from tests.materials.orders.web import Browser, at_once, serving

pytestmark = pytest.mark.django_db(transaction=True)
ROUNDS = 6
INDEX = "demand_ordered_once"


@pytest.fixture
def web(site, tmp_path):
    with serving(str(tmp_path)) as address:
        yield address


@pytest.fixture
def otto(site):
    return MembershipFactory(company=site.by.company, user=UserFactory(name="Otto Brandt"), role=Role.OWNER)


def issue_address(order):
    return reverse("order-issue", args=[order.pk])


def test_one_form_pressed_eight_times_at_once_is_one_order(web, site):
    dana = Browser(web, site.by)

    for number in range(1, ROUNDS + 1):
        draft = DraftFactory(company=site.by.company)
        page = reverse("order", args=[draft.pk])
        form = dana.form(page, "key", "seen")
        answers = at_once([lambda d=draft, f=form: dana.post(issue_address(d), f)] * 8)
        again = [dana.post(issue_address(draft), form) for _ in range(3)]

        assert {(status, leads) for status, leads, _ in [*answers, *again]} == {(302, page)}
        draft.refresh_from_db()
        assert draft.number.endswith(f"-{number:03d}")
        assert OrderEvent.objects.filter(order=draft).count() == 1


def test_of_two_managers_who_press_at_once_one_orders_and_one_reads_who(web, site, otto):
    first, second = Browser(web, site.by), Browser(web, otto)

    for _ in range(ROUNDS):
        draft = DraftFactory(company=site.by.company)
        page = reverse("order", args=[draft.pk])
        forms = [(person, person.form(page, "key", "seen")) for person in (first, second)]
        answers = at_once([lambda p=p, f=f, d=draft: p.post(issue_address(d), f) for p, f in forms])

        assert sorted(status for status, _, _ in answers) == [302, 409]
        draft.refresh_from_db()
        told = next(text for status, _, text in answers if status == 409)
        assert draft.issued_by.name in told
        assert draft.number in told


def test_of_two_managers_who_draft_at_once_one_drafts(web, site, otto):
    first, second = Browser(web, site.by), Browser(web, otto)
    week, drafts = reverse("order-week", args=[site.monday]), reverse("order-week-drafts", args=[site.monday])

    for _ in range(ROUNDS):
        forms = [(person, person.form(week)) for person in (first, second)]
        answers = at_once([lambda p=p, f=f: p.post(drafts, f) for p, f in forms])

        assert {status for status, _, _ in answers} == {302}
        assert (PurchaseOrder.objects.count(), Coverage.objects.count()) == (1, 16)
        services.discard_draft(by=site.by, order=PurchaseOrder.objects.get())


def covered_twice(site):
    """Return how many cover the same demand after two who look first and write later, without a lock."""
    opening, looked = site.opening("W1"), threading.Barrier(2)
    lines = [OrderLine.objects.get(order=DraftFactory(company=site.by.company)) for _ in range(2)]

    def careless(line):
        is_open = not Coverage.objects.filter(opening=opening, material=line.material).exists()
        looked.wait()
        try:
            if is_open:
                Coverage.objects.create(
                    company=site.by.company, line=line, opening=opening, material=line.material, quantity=1
                )
        except IntegrityError:
            pass
        finally:
            connection.close()

    at_once([lambda line=line: careless(line) for line in lines])
    return Coverage.objects.filter(opening=opening, material=lines[0].material).count()


def test_check_then_insert_orders_once_under_the_index(site):
    for _ in range(ROUNDS):
        assert covered_twice(site) == 1
        Coverage.objects.all().delete()


def test_without_the_index_the_same_race_orders_twice(site):
    """The negative control."""
    (constraint,) = [each for each in Coverage._meta.constraints if each.name == INDEX]
    with connection.schema_editor() as editor:
        editor.remove_constraint(Coverage, constraint)
    try:
        doubles = 0
        for _ in range(ROUNDS):
            doubles += covered_twice(site) == 2
            Coverage.objects.all().delete()
    finally:
        with connection.schema_editor() as editor:
            editor.add_constraint(Coverage, constraint)

    assert doubles >= ROUNDS / 2
