"""How many queries and how long a house's and a project's pages take, signed in."""

from __future__ import annotations

from collections.abc import Iterator

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from config.benches.office import founded, project, signed_in
from config.benches.windows import houses
from materials.services.rollups import keep_roll_ups

SEED = 3
PER_HOUSE, SIZES = 40, 16
PLANS = 5
VISITS = 9


def measure(*, small: bool) -> Iterator[Figure]:
    """Open each page once to warm up, then several times; the middle one counts.

    A project's takeoff is asked for before the clock has kept what its houses come to, and after.
    """
    by = founded()
    count = PLANS if small else 200
    plans = houses(PLANS, openings=PER_HOUSE, sizes=SIZES, seed=SEED)
    made = project(by, plans=list(plans), houses=count, code="P")
    first = made.houses.earliest("pk")
    client = signed_in(by)
    many, openings = f"{count} houses", f"{PER_HOUSE} openings"
    yield from _page(client, f"house page, {openings}", reverse("house", args=[first.pk]))
    yield from _page(client, f"house takeoff, {openings}", reverse("house-takeoff", args=[first.pk]))
    yield from _page(client, f"project page, {many}", reverse("project", args=[made.pk]))
    takeoff = reverse("project-takeoff", args=[made.pk])
    yield from _page(client, f"project takeoff, {many}, just imported", takeoff)
    keep_roll_ups(company=by.company)
    yield from _page(client, f"project takeoff, {many}", takeoff)


def _page(client: Client, name: str, address: str) -> Iterator[Figure]:
    with CaptureQueriesContext(connection) as queries:
        _open(client, address)
    count = len(queries)  # the next visit forgets them
    visits = [spent(_open, client, address) for _ in range(VISITS)]
    yield Figure(name, count, "queries", 15)
    yield Figure.of_time(name, Spent.middle(visits), 0.2)


def _open(client: Client, address: str) -> None:
    answer = client.get(address)
    if answer.status_code != 200:
        raise ValueError(f"{address} answered {answer.status_code}")
