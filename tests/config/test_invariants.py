"""`verify_invariants` finds each kind of damage: what the database refuses is forced upon it here."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection, transaction
from django.db.models import F
from django.utils import timezone

from crews import services as crews
from crews.models import Assignment, DayPlan
from materials import services
from materials.models import (
    Coverage,
    DeliveryLine,
    Lot,
    Movement,
    OrderEvent,
    OrderLine,
    Price,
    PurchaseOrder,
)
from materials.services.rollups import keep_roll_ups
from openings.models import Opening, WindowRecord
from projects import triggers
from projects.models import Counter, Elevation, House
from projects.selectors import elevations_of
from tests.config.loaded import run
from tests.factories.houses import ElevationFactory
from tests.factories.openings import accept_all_windows
from tests.factories.people import MembershipFactory
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db


@pytest.fixture
def site(manager, foreman):
    """An issued order, a draft, kept totals, a crew with its day planned; and another company beside it."""
    site = build(manager)
    site.issued()
    build(manager, code="LOT-2")
    services.make_drafts(by=manager, week=site.monday)
    keep_roll_ups(company=manager.company)
    accept_all_windows(foreman, site.house)
    crew = crews.create_crew(by=foreman, code="RED", name="Red truck")
    for name in ("Ferris", "Juno"):
        crews.add_member(by=foreman, crew=crew, name=name, grade="installer")
    (face,) = elevations_of(site.house)
    crews.assign_crew(by=foreman, crew=crew, elevation=face, day=site.tuesday)
    crews.plan_day(by=foreman, crew=crew, day=site.tuesday)
    services.add_stock(by=manager, material="shims", pack="", packs=40, key="form-stock")
    order = PurchaseOrder.objects.exclude(number=None).get()
    came = [services.Came(order.lines.get(material="shims").pk, good=1)]
    services.receive_delivery(by=manager, order=order, came=came, key="form-came")
    build(MembershipFactory(company__code="ELSEWHERE"), code="LOT-9")
    return site


def issued():
    return PurchaseOrder.objects.exclude(number=None)


def drafts():
    return PurchaseOrder.objects.filter(number=None)


def sql(statement):
    with connection.cursor() as cursor:
        cursor.execute(statement)


def cover_twice():
    sql("DROP INDEX demand_ordered_once")
    cover = Coverage.objects.filter(line__order__in=drafts()).first()
    cover.pk, cover._state.adding = None, True
    cover.save()


def change_inputs():
    order = issued().get()
    order.inputs["openings"][0]["unit_width_nm"] += 25_400_000
    issued().update(inputs=order.inputs)


def change_plan():
    plan = DayPlan.objects.get()
    plan.plan["visits"] = []
    DayPlan.objects.update(plan=plan.plan)


def change_totals():
    house = House.objects.get(code="LOT-1")
    kept = house.kept_roll_up
    kept.totals["openings"] += 1
    kept.save()


def send_nowhere():
    nowhere = ElevationFactory(house=House.objects.get(code="LOT-1"), name="Unplaced")
    Assignment.objects.update(elevation=nowhere)


def give_away(cover):
    foreign = Opening.objects.filter(house__code="LOT-9").first()
    Coverage.objects.filter(pk=cover.pk).update(opening=foreign)


def event(kind):
    order = issued().get()
    OrderEvent.objects.create(company=order.company, order=order, kind=kind, at=timezone.now())


DAMAGE = {
    "more covered than lacked": ("I1", lambda: Coverage.objects.update(quantity=F("quantity") + 1)),
    "more covered than bought": (
        "I1",
        lambda: OrderLine.objects.filter(order__in=drafts()).update(pack_size=1),
    ),
    "one demand on two lines": ("I1", cover_twice),
    "other words than the form's": ("I2", lambda: issued().update(issue_body_hash="0" * 64)),
    "no form at all": ("I2", lambda: issued().update(issue_key=None)),
    "a draft with a form's key": ("I2", lambda: drafts().update(issue_key="form-9")),
    "more came than is in stock": ("I3", lambda: DeliveryLine.objects.update(good=7)),
    "a lot of no delivery": ("I3", lambda: DeliveryLine.objects.all()._raw_delete("default")),
    "whole and still open": (
        "I12",
        lambda: OrderLine.objects.filter(order__in=issued()).exclude(material="shims").delete(),
    ),
    "delivered and not said": (
        "I12",
        lambda: OrderEvent.objects.filter(kind="part delivered")._raw_delete("default"),
    ),
    "a balance that is no sum": ("I4", lambda: Movement.objects.update(balance=F("balance") + 1)),
    "a line of the ledger left out": ("I4", lambda: Movement.objects.update(number=2)),
    "less than nothing": ("I4", lambda: Movement.objects.update(quantity=-1)),
    "part of a piece": ("I4", lambda: Lot.objects.update(piece_size=3)),
    "another place of delivery": ("I5", lambda: issued().update(deliver_to="elsewhere")),
    "another description": ("I5", lambda: OrderLine.objects.update(description="something else")),
    "a line gone": ("I5", lambda: issued().get().lines.first().delete()),
    "the event gone": ("I5", lambda: OrderEvent.objects.all()._raw_delete("default")),
    "another time of issue": ("I5", lambda: issued().update(issued_at=timezone.now())),
    "other inputs": ("I7", change_inputs),
    "less covered than it needs": ("I7", lambda: Coverage.objects.update(quantity=F("quantity") - 1)),
    "a price of no list": (
        "I7",
        lambda: OrderLine.objects.filter(order__in=drafts()).update(
            unit_price_cents=F("unit_price_cents") + 1, total_cents=F("packs") * (F("unit_price_cents") + 1)
        ),
    ),
    "a plan that was edited": ("I7", change_plan),
    "totals that were edited": ("I7", change_totals),
    "a total that is no sum": ("I8", lambda: drafts().update(total_cents=F("total_cents") + 1)),
    "a crew at no face": ("I9", send_nowhere),
    "a house of another company's project": (
        "I10",
        lambda: House.objects.filter(code="LOT-1").update(project=House.objects.get(code="LOT-9").project),
    ),
    "an opening of another company": (
        "I10",
        lambda: give_away(Coverage.objects.filter(line__order__in=drafts()).first()),
    ),
    "a person of another company": (
        "I10",
        lambda: drafts().update(created_by=MembershipFactory(company__code="FAR").user),
    ),
    "closed and then acknowledged": ("I11", lambda: (event("closed"), event("acknowledged"))),
    "never issued": ("I11", lambda: OrderEvent.objects.filter(kind="issued").update(kind="cancelled")),
    "an event before its order": ("I11", lambda: (event("closed"), turn_back("closed"))),
    "accepted and never counted": (
        "windows",
        lambda: WindowRecord.objects.filter(kind="counted").update(kind="accepted"),
    ),
    "accepted in another size": (
        "windows",
        lambda: WindowRecord.objects.filter(kind="accepted").update(width_nm=F("width_nm") + 1),
    ),
    "a record of a window left out": ("windows", lambda: WindowRecord.objects.update(number=F("number") + 4)),
    "a gap in the numbers": ("I14", lambda: Counter.objects.filter(kind="order").update(last=2)),
    "a number beyond the last": ("I14", lambda: issued().update(number=f"{timezone.now().year}-007")),
    "a number that is none": ("I14", lambda: issued().update(number="7")),
}


def turn_back(kind):
    OrderEvent.objects.filter(kind=kind).update(at=timezone.now() - timezone.timedelta(days=400))


def broken(answer) -> set[str]:
    return {told["code"] for told in answer["invariants"] if not told["holds"]}


def test_nothing_is_broken_where_services_wrote(site):
    answer, code = run("verify_invariants")

    assert (code, answer["problems"], broken(answer)) == (0, [], set())
    assert [told["code"] for told in answer["invariants"]] == [
        *("I1", "I2", "I3", "I4", "I5", "I7", "I8", "I9", "I10", "I11", "I12", "I14"),
        *("windows", "phones", "triggers"),
    ]
    assert all(told["looked_at"] for told in answer["invariants"])


@pytest.mark.parametrize("damage", DAMAGE)
def test_damage_is_found_and_named(site, damage):
    code, forced = DAMAGE[damage]
    connection.check_constraints()  # PostgreSQL lets no trigger go while a check waits
    with triggers.lifted():
        forced()
        connection.check_constraints()

    answer, exit_code = run("verify_invariants")

    assert exit_code == 1
    assert code in broken(answer)
    assert any(problem["problem"].startswith(f"{code}: ") for problem in answer["problems"])
    assert "triggers" not in broken(answer)


def test_half_a_cent_is_found_where_the_database_keeps_it(site):
    sql(f"UPDATE materials_price SET price_cents = 9.5 WHERE id = {Price.objects.first().pk}")

    answer, _ = run("verify_invariants")

    # PostgreSQL makes it whole by itself
    assert broken(answer) == ({"I8"} if connection.vendor == "sqlite" else set())


def test_missing_trigger_is_found(site):
    gone = next(trigger for trigger in triggers.wanted() if trigger.name == "order_changed")
    connection.check_constraints()
    with transaction.atomic():
        name, table = gone.full_name, "materials_purchaseorder"
        sql(f'DROP TRIGGER "{name}"' + (f' ON "{table}"' if connection.vendor == "postgresql" else ""))

    answer, exit_code = run("verify_invariants")

    assert (exit_code, broken(answer)) == (1, {"triggers"})
    assert answer["problems"][0]["problem"].startswith("triggers: lw_order_changed is missing")


def test_one_company_is_looked_at_where_it_is_named(site):
    answer, code = run("verify_invariants", "--company", "harrow")

    numbers = next(told for told in answer["invariants"] if told["code"] == "I2")
    assert (code, numbers["looked_at"]) == (0, 2)


def test_unknown_company_is_refused_and_unknown_option_is_wrong_usage(site):
    answer, code = run("verify_invariants", "--company", "NOBODY")

    assert code == 1
    assert answer["problems"]
    with pytest.raises(CommandError):
        call_command("verify_invariants", "--loud", stdout=StringIO(), stderr=StringIO())


def test_people_read_one_line_per_invariant(site):
    out = StringIO()

    call_command("verify_invariants", stdout=out)

    lines = out.getvalue().splitlines()
    assert len(lines) == 15
    assert all(" holds " in line for line in lines)


def test_looking_changes_nothing(site):
    before = [list(model.objects.order_by("pk").values_list()) for model in triggers.owned_models()]

    run("verify_invariants")

    assert [list(model.objects.order_by("pk").values_list()) for model in triggers.owned_models()] == before


def test_empty_database_has_nothing_broken(db):
    answer, code = run("verify_invariants")

    assert (code, broken(answer)) == (0, set())
    assert not Elevation.objects.exists()
