"""The demo's pages open, and it shows a pair that somebody answers for and one that waits."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from crews.models import Assignment, Crew, CrewMember
from materials.models import CutRoll, Delivery, InstructionSheet, Lot, PurchaseOrder, SpliceRule, Supplier
from materials.selectors.compatibility import table_page
from openings.models import Opening, ScheduleImport, WindowPhoto
from projects.models import Elevation, House, Job, Membership, Project
from tests.access import matrix
from tests.config.loaded import company, loaded

__all__ = ["loaded"]
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("loaded")]
PAIR = {"one": "rubberised-asphalt", "other": "fibreglass-fin"}  # of WL, without a name


def test_one_pair_without_an_entry_is_answered_for_and_one_waits():
    by_code = {shown.project.code: shown for shown in table_page(company()).projects}

    taken = {
        (code, pair.judged.told, pair.judged.answer, pair.taken.person)
        for code, shown in by_code.items()
        for pair in shown.pairs
        if pair.taken
    }
    waiting = [(code, pair.judged.keys) for code, shown in by_code.items() for pair in shown.open]

    told = "butyl-faced membrane with clad wood with an applied fin"
    assert ("TR", told, "no entry", "Maud Thistlewood") in taken
    assert waiting == [("WL", ("rubberised-asphalt", "fibreglass-fin"))]
    assert not by_code["PM"].is_own


def test_every_page_of_the_demo_opens_for_the_office():
    demo, client = company(), Client()
    client.force_login(Membership.objects.of(demo).get(role="manager").user)
    things = {
        "project": Project, "house": House, "elevation": Elevation, "opening": Opening,
        "schedule": ScheduleImport, "order": PurchaseOrder, "job": Job, "crew": Crew,
        "member": CrewMember, "assignment": Assignment, "lot": Lot, "issued": PurchaseOrder,
        "wanted": PurchaseOrder, "roll": CutRoll, "supplier": Supplier, "judged": Project,
        "delivery": Delivery, "instruction": InstructionSheet, "window_photo": WindowPhoto,
        "splice": SpliceRule,
    }  # fmt: skip
    opened = 0
    for row in matrix.rows():
        if row.method != "GET" or row.expected["manager"] != 200 or row.route == "choose-password":
            continue
        kind = next((word.partition("=")[2] for word in row.arguments.split() if "=" in word), "")
        rows = list(things[kind].objects.of(demo).order_by("pk")) if kind else [None]
        rows = [thing for thing in rows if kind not in {"issued", "wanted"} or thing.number]
        rows = [thing for thing in rows if kind != "judged" or thing.code == "WL"]
        for thing in rows[:: max(1, len(rows) // 9)]:
            address = address_of(row, thing)
            assert client.get(address).status_code in {200, 302}, address
            opened += 1
    assert opened > 100


def address_of(row: matrix.Row, thing) -> str:
    filled = {}
    for argument in row.arguments.split():
        name, equals, _ = argument.partition("=")
        if equals:
            filled[name] = thing.pk
        else:
            name, _, text = argument.partition(":")
            filled[name] = (
                Assignment.objects.of(company()).earliest("date").date
                if name == "day"
                else PAIR.get(name, text)
            )
    return reverse(row.route, kwargs=filled)
