"""R5: of two people who edit the same row nobody overwrites what he has not seen, and he reads who did."""

from __future__ import annotations

import random
import threading

import pytest
from django.db import connection, transaction
from django.test import Client

from projects.errors import StaleVersion
from projects.models import Role
from tests.access.edits import KINDS, VERSIONS, fresh, version_now
from tests.factories.houses import ProjectFactory
from tests.factories.people import MembershipFactory, UserFactory

PAIRS = 70  # of each of twelve kinds: over eight hundred in all


@pytest.fixture
def two(owner):
    return [
        owner,
        MembershipFactory(company=owner.company, user=UserFactory(name="Otto Brandt"), role=Role.OWNER),
    ]


def refusal_of(save, *, by, row, version, text):
    try:
        save(by, row, version, text)
    except StaleVersion as refusal:
        return refusal
    return None


@pytest.mark.django_db
@pytest.mark.parametrize("kind", KINDS)
def test_no_edit_is_lost_in_random_pairs_of_edits(two, kind):
    make, save, _ = KINDS[kind]
    row, lot = make(two[0].company), random.Random(kind)
    refused = 0
    last = None

    for pair in range(PAIRS):
        seen = {by: version_now(kind, row) for by in two}
        order = lot.sample(two, 2)
        if lot.random() < 0.3:
            # the second one looks again before saving
            seen[order[1]] = None
        for by in order:
            before = version_now(kind, row)
            looked = seen[by] or before
            text = f"{kind} {pair} of {by.name}" + "x" * lot.randrange(2)
            refusal = refusal_of(save, by=by, row=row, version=looked, text=text)
            # whoever saved had seen what was there; whoever had not changed nothing, and reads who did
            assert (refusal is None) == (looked == before)
            if refusal:
                refused += 1
                assert refusal.parameters["who"] == last.name
                assert version_now(kind, row) == before
            elif version_now(kind, row) != before:
                last = by

    assert refused > PAIRS / 3


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("kind", ["project", "opening", "crew"])
def test_of_two_saves_at_the_same_moment_one_wins(two, kind):
    make, save, field = KINDS[kind]
    row = make(two[0].company)

    for race in range(10):
        version, before = fresh(row).version, getattr(fresh(row), field)
        won, lost = race_of(two, lambda by, at=race, seen=version: save(by, row, seen, f"{by.name} {at}"))

        assert (len(won), len(lost)) == (1, 1)
        assert getattr(fresh(row), field) == f"{won[0].name} {race}" != before
        assert fresh(row).version == version + 1


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("kind", ["wage", *VERSIONS])
def test_of_two_who_save_what_several_rows_say_one_is_refused(two, kind):
    make, save, _ = KINDS[kind]
    row = make(two[0].company)

    for race in range(5):
        version = version_now(kind, row)
        won, lost = race_of(two, lambda by, at=race, seen=version: save(by, row, seen, f"{by.name} {at}"))

        assert (len(won), len(lost)) == (1, 1)
        assert version_now(kind, row) > version


def race_of(people, save):
    """Return who saved and who was refused, all starting at the same moment."""
    together, won, lost = threading.Barrier(len(people)), [], []

    def run(by):
        together.wait()
        try:
            save(by)
            won.append(by)
        except StaleVersion:
            lost.append(by)
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(by,)) for by in people]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return won, lost


@pytest.mark.django_db(transaction=True)
def test_a_save_that_looks_before_it_locks_would_lose_one(two):
    """The negative control: the version is compared first, the row is written later."""
    project = ProjectFactory(company=two[0].company)
    looked = threading.Barrier(2)

    def careless(by):
        seen = fresh(project)
        connection.close()
        looked.wait()
        if seen.version == project.version:
            with transaction.atomic():
                type(project).objects.of(by.company).filter(pk=project.pk).update(name=by.name)

    won, lost = race_of(two, careless)

    assert (len(won), lost) == (2, [])


EDITS = {
    "project": ("/projects/{}/edit/", "name", "Alder Yard", "Alder Court"),
    "house": ("/houses/{}/edit/", "name", "Lot 7", "Lot 8"),
    "elevation": ("/elevations/{}/", "name", "Front", "Street"),
    "opening": ("/openings/{}/edit/", "ro_width", "37", "38"),
    "crew": ("/crews/{}/edit/", "breaks", "9:30-9:45", "12:00-12:30"),
    "crew member": ("/crews/people/{}/", "name", "Wren Idle", "Wren Pell"),
    "company": ("/company/", "name", "Harrow Row", "Harrow Yard"),
    "membership": ("/people/{}/", "role", "foreman", "crew"),
    "wage": ("/crews/people/{}/wage/", "wage", "31.50", "32.75"),
    "rents": ("/costs/rents/", "lift", "150.00", "151.00"),
    "weather": ("/weather/2026-06-09/", "morning_temp", "70", "81"),
    "days of need": ("/houses/{}/need-dates/", "day-", "2026-06-08", "2026-06-10"),
}


@pytest.mark.django_db
@pytest.mark.parametrize("kind", KINDS)
def test_the_second_to_save_reads_who_was_first_and_both_values(two, kind):
    address, field, one, other = EDITS[kind]
    row = KINDS[kind][0](two[0].company)
    address = address.format(row.pk)
    first, second = (signed_in(by) for by in two)
    form_of_first, form_of_second = entry(first, address), entry(second, address)
    # a house's days have a field for each elevation
    field = field if field != "day-" else f"day-{row.elevations.get().pk}"

    saved = first.post(address, {**form_of_first, field: one})
    late = second.post(address, {**form_of_second, field: other})
    again = second.post(
        address, {**form_of_second, field: other, "version": late.context["form"]["version"].value()}
    )

    assert (saved.status_code, late.status_code, again.status_code) == (302, 409, 302)
    told = late.content.decode()
    assert two[0].name in told
    shown = {change.label: (str(change.theirs), str(change.yours)) for change in late.context["differences"]}
    label = str(late.context["form"][field].label)
    assert one.casefold() in shown[label][0].casefold()
    assert other.casefold() in shown[label][1].casefold()


def signed_in(by):
    client = Client()
    client.force_login(by.user)
    return client


def entry(client, address):
    """Return the page's form as a browser would send it."""
    form = client.get(address).context["form"]
    values = {field.html_name: field.value() for field in form}
    return {
        name: "on" if value is True else value for name, value in values.items() if value not in {None, False}
    }
