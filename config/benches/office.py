"""An office of its own for what needs a database: a company with projects and houses, by the services."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.db import transaction
from django.test import Client

from config.benches.windows import Row, as_csv
from openings import services as openings
from projects import services
from projects.models import House, Membership, Project


def founded() -> Membership:
    """Return the owner of a new company, the first in its database."""
    return services.found_company(
        code="BENCH", name="Bench Setters", owner_email="owner@bench.example", owner_name="Teal Marrow"
    )


def signed_in(person: Membership) -> Client:
    """Return a browser in which the person has signed in."""
    client = Client(SERVER_NAME="localhost")
    client.force_login(person.user, "django.contrib.auth.backends.ModelBackend")
    return client


@transaction.atomic
def project(by: Membership, *, plans: Iterable[Sequence[Row]], houses: int, code: str) -> Project:
    """Return a project of so many houses: one per plan from its window schedule, the others its copies."""
    made = services.create_project(by=by, code=code, name=f"Project {code}", builder="Teasel Homes")
    firsts = [house(by, made, rows, code=f"{code}-{number}") for number, rows in enumerate(plans)]
    for number in range(len(firsts), houses):
        openings.copy_house(
            by=by, house=firsts[number % len(firsts)], code=f"{code}-{number}", name=f"Lot {number}"
        )
    return made


def house(by: Membership, project: Project, rows: Sequence[Row], *, code: str) -> House:
    """Return a house with the openings of a window schedule's rows."""
    made = services.create_house(by=by, project=project, code=code, name=f"Lot {code}")
    sent = openings.start_import(by=by, house=made, file_name="plan.csv", content=as_csv(rows))
    openings.confirm_import(by=by, schedule_import=sent)
    return made
