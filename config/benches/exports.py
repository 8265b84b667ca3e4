"""How long it takes to hand out large tables, from the press to the bytes."""

from __future__ import annotations

from collections.abc import Iterator

from django.test import Client
from django.urls import reverse
from django.utils import timezone

from config.benches.figure import Figure
from config.benches.machine import spent
from config.benches.office import founded, project, signed_in
from config.benches.windows import houses
from crews import services as crews
from materials.models import CutList, CutRoll
from projects.models import House, Membership
from projects.quantities.length import Length
from projects.quantities.money import Money

SEED, SIZES, PER_HOUSE = 6, 16, 40
HOUSES, STRIPS = 125, 5_000
PER_ROLL = 8
ROLL, STRIP = Length.inches(600).nm, Length.inches(66).nm
SECONDS = 10


def measure(*, small: bool) -> Iterator[Figure]:
    """Hand out a cut list of 5,000 strips and the costs of 5,000 openings, as CSV and as a workbook."""
    count, strips = (2, 80) if small else (HOUSES, STRIPS)
    by = founded()
    client = signed_in(by)
    (plan,) = houses(1, openings=PER_HOUSE, sizes=SIZES, seed=SEED)
    made = project(by, plans=[plan], houses=count, code="P")
    _paid_crew(by)
    first = made.houses.earliest("pk")
    _cut_list(by, first, strips=strips)
    for form in ("csv", "xlsx"):
        took = spent(_open, client, reverse(f"cut-list-house-{form}", args=[first.pk]))
        yield Figure.of_time(f"cut list of {strips:,} rows, {form}", took, SECONDS)
        took = spent(_open, client, reverse(f"costs-{form}"))
        yield Figure.of_time(f"costs of {count * PER_HOUSE:,} openings, {form}", took, SECONDS)


def _paid_crew(by: Membership) -> None:
    crew = crews.create_crew(by=by, code="RED", name="Red crew")
    member = crews.add_member(by=by, crew=crew, name="Rowan Pike", grade="lead")
    crews.set_wage(by=by, member=member, wage=Money.of(30), burden_percent=40)


def _cut_list(by: Membership, house: House, *, strips: int) -> None:
    """Keep a list of so many strips on full rolls, as if it had been laid out."""
    made = CutList.objects.create(company=by.company, house=house, made_at=timezone.now())
    strip = {
        "opening": 0,
        "house": house.code,
        "mark": "W1",
        "part": "head strip",
        "zone": "",
        "length": STRIP,
    }
    CutRoll.objects.bulk_create(
        CutRoll(
            company=by.company,
            cut_list=made,
            position=position,
            material="membrane-9in",
            pack="roll-50ft",
            length_nm=ROLL,
            strips=[strip] * PER_ROLL,
            left_nm=ROLL - PER_ROLL * STRIP,
        )
        for position in range(1, strips // PER_ROLL + 1)
    )


def _open(client: Client, address: str) -> None:
    answer = client.get(address)
    if answer.status_code != 200:
        raise ValueError(f"{address} answered {answer.status_code}")
