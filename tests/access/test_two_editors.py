"""R5: of two people who edit the same row nobody overwrites what he has not seen, and he reads who did."""

from __future__ import annotations

import random
import threading
from dataclasses import replace

import pytest
from django.db import connection, transaction
from django.test import Client

from crews import services as crews
from openings import services as openings
from openings.convert import opening_input
from projects import services as projects
from projects.errors import StaleVersion
from projects.models import Role
from tests.factories.crews import CrewFactory, CrewMemberFactory
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.openings import OpeningFactory
from tests.factories.people import MembershipFactory, UserFactory

PAIRS = 70  # of each of eight kinds: over five hundred in all


def _opening(by, row, version, text):
    value = replace(opening_input(row), note=text)
    return openings.edit_opening(by=by, opening=row, version=version, value=value)


def _role(by, row, version, text):
    role = Role.FOREMAN if len(text) % 2 else Role.CREW
    return projects.change_role(by=by, membership=row, version=version, role=role)


KINDS = {
    "project": (
        lambda company: ProjectFactory(company=company, code="ALDER"),
        lambda by, row, version, text: projects.edit_project(
            by=by, project=row, version=version, code="ALDER", name=text, builder="Teasel Homes"
        ),
        "name",
    ),
    "house": (
        lambda company: HouseFactory(project__company=company, code="LOT-1"),
        lambda by, row, version, text: projects.edit_house(
            by=by, house=row, version=version, code="LOT-1", name=text
        ),
        "name",
    ),
    "elevation": (
        lambda company: ElevationFactory(house__project__company=company),
        lambda by, row, version, text: projects.edit_elevation(
            by=by, elevation=row, version=version, name=text, access="ladder"
        ),
        "name",
    ),
    "opening": (lambda company: OpeningFactory(house__project__company=company), _opening, "note"),
    "crew": (
        lambda company: CrewFactory(company=company, code="RED"),
        lambda by, row, version, text: crews.edit_crew(
            by=by, crew=row, version=version, code="RED", name=text
        ),
        "name",
    ),
    "crew member": (
        lambda company: CrewMemberFactory(crew__company=company),
        lambda by, row, version, text: crews.edit_member(
            by=by, member=row, version=version, name=text, grade="lead"
        ),
        "name",
    ),
    "company": (
        lambda company: company,
        lambda by, row, version, text: projects.edit_company(
            by=by, version=version, name=text, time_zone="UTC", sheets_hour=17
        ),
        "name",
    ),
    "membership": (lambda company: MembershipFactory(company=company, role=Role.MANAGER), _role, "role"),
}


@pytest.fixture
def two(owner):
    return [
        owner,
        MembershipFactory(company=owner.company, user=UserFactory(name="Otto Brandt"), role=Role.OWNER),
    ]


def fresh(row):
    return type(row)._default_manager.get(pk=row.pk)


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
        seen = {by: fresh(row) for by in two}
        order = lot.sample(two, 2)
        if lot.random() < 0.3:
            # the second one looks again before saving
            seen[order[1]] = None
        for by in order:
            before = fresh(row)
            looked = seen[by] or before
            text = f"{kind} {pair} of {by.name}" + "x" * lot.randrange(2)
            refusal = refusal_of(save, by=by, row=row, version=looked.version, text=text)
            # whoever saved had seen what was there; whoever had not changed nothing, and reads who did
            assert (refusal is None) == (looked.version == before.version)
            if refusal:
                refused += 1
                assert refusal.parameters["who"] == last.name
                assert fresh(row).version == before.version
            elif fresh(row).version != before.version:
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
}


@pytest.mark.django_db
@pytest.mark.parametrize("kind", KINDS)
def test_the_second_to_save_reads_who_was_first_and_both_values(two, kind):
    address, field, one, other = EDITS[kind]
    row = KINDS[kind][0](two[0].company)
    address = address.format(row.pk)
    first, second = (signed_in(by) for by in two)
    form_of_first, form_of_second = entry(first, address), entry(second, address)

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
