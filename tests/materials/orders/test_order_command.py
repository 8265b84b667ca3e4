"""`manage.py order`: to the letter of the published interface."""

from __future__ import annotations

import json
from io import StringIO
from math import pi, sqrt

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from materials.models import Price, PurchaseOrder
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db


def run(*arguments: str) -> tuple[dict, int]:
    out, code = StringIO(), 0
    try:
        call_command("order", *arguments, "--json", stdout=out, stderr=StringIO())
    except SystemExit as leave:
        code = int(leave.code or 0)
    return json.loads(out.getvalue()), code


def test_answer_has_the_published_shape(site):
    answer, code = run("--week", site.tuesday.isoformat())

    assert code == 0
    assert answer["week"] == site.monday.isoformat()
    assert {"week", "demands", "orders", "problems", "notices"} == set(answer)
    (order,) = answer["orders"]
    assert {"supplier", "number", "state", "lines", "total"} <= set(order)
    assert (order["supplier"], order["number"], order["state"]) == ("THISTLE", None, "draft")
    assert order["total"] == "189.90"
    keys = {"material", "need", "unit", "pack", "packs", "unit_price", "total"}
    assert all(set(line) == keys for line in order["lines"])
    assert (answer["problems"], answer["notices"]) == ([], [])


def test_needs_are_unrounded_in_inches_cubic_inches_and_pieces(site):
    answer, _ = run("--week", site.tuesday.isoformat())

    (order,) = answer["orders"]
    by_material = {line["material"]: line for line in order["lines"]}
    assert by_material["membrane-9in"] == {
        "material": "membrane-9in",
        "need": 456,
        "unit": "in",
        "pack": "roll-50ft",
        "packs": 1,
        "unit_price": "29.00",
        "total": "29.00",
    }
    assert by_material["wrb-tape-3in"]["need"] == pytest.approx(4 * (9 * sqrt(2) + 6), abs=1e-6)
    assert by_material["sealant"]["need"] == pytest.approx(300 * pi / 16 * 1.15, abs=1e-6)
    assert (by_material["sealant"]["unit"], by_material["sealant"]["packs"]) == ("in3", 4)
    assert (by_material["screw-2in"]["need"], by_material["screw-2in"]["unit"]) == (34, "piece")
    demands = {demand["material"]: demand for demand in answer["demands"]}
    assert demands["membrane-9in"]["need"] == 456
    assert demands["membrane-9in"]["needed"] == site.tuesday.isoformat()
    assert demands["membrane-9in"]["houses"] == ["LOT-1"]


def test_second_run_creates_nothing_and_answers_the_same(site):
    first, _ = run("--week", site.tuesday.isoformat())

    second, code = run("--week", site.monday.isoformat())

    assert (second, code) == (first, 0)
    assert PurchaseOrder.objects.count() == 1


def test_named_houses_alone_are_ordered_for(site):
    build(site.by, code="LOT-2")

    answer, _ = run("--week", site.tuesday.isoformat(), "--houses", "lot-2")

    assert {house for demand in answer["demands"] for house in demand["houses"]} == {"LOT-2"}
    (order,) = PurchaseOrder.objects.all()
    assert [row["house__project"] for row in order.inputs["openings"]] != []


def test_issued_order_shows_its_number_and_state(site):
    order = site.issued()

    answer, _ = run("--week", site.tuesday.isoformat())

    assert [(each["number"], each["state"]) for each in answer["orders"]] == [(order.number, "issued")]


@pytest.mark.parametrize(
    "arguments",
    [("--week", "next week"), ("--week", "2026-02-30"), ("--week", "2026-06-08", "--houses", "LOT-77")],
)
def test_bad_values_are_refused_and_write_nothing(site, arguments):
    answer, code = run(*arguments)

    assert code == 1
    assert answer["problems"][0]["problem"]
    assert answer["problems"][0]["remedy"]
    assert not PurchaseOrder.objects.exists()


def test_without_a_price_it_is_refused(site):
    Price.objects.all().delete()

    answer, code = run("--week", site.tuesday.isoformat())

    assert code == 1
    assert "No supplier has a price yet" in answer["problems"][0]["problem"]


def test_missing_week_and_unknown_option_are_wrong_usage(site):
    for arguments in [(), ("--week", "2026-06-08", "--loud")]:
        with pytest.raises(CommandError):
            call_command("order", *arguments, stdout=StringIO(), stderr=StringIO())


def test_people_read_orders_line_by_line(site):
    out = StringIO()

    call_command("order", "--week", site.tuesday.isoformat(), stdout=out)

    told = out.getvalue()
    assert "THISTLE: draft, 189.90 USD" in told
    assert "  4 x cartridge-10.1oz sealant: 36.00" in told


def test_actor_without_the_right_orders_nothing(site, foreman):
    answer, code = run("--week", site.tuesday.isoformat(), "--by", foreman.user.email)

    assert code == 1
    assert not PurchaseOrder.objects.exists()
    assert answer["problems"]
