"""Which company a command works for, and who gave it, on a database whose tables are there."""

from __future__ import annotations

from typing import Any

from django.core.management import call_command
from django.core.management.base import CommandParser
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from projects.actors import Actor, CommandLine
from projects.errors import BadValue
from projects.models import Company, Membership


def add_actor_options(parser: CommandParser) -> None:
    """Add the two options that every command on the database takes."""
    parser.add_argument("--company", metavar="CODE", help="needed only where there is more than one")
    parser.add_argument("--by", metavar="EMAIL", help="who gives the command; else the command line itself")


def choose_actor(options: dict[str, Any]) -> Actor:
    """Return who acts for which company. Raises BadValue where that is not clear."""
    make_ready()
    company = _company(options.get("company"))
    email = options.get("by")
    if not email:
        return CommandLine(company)
    member = (
        Membership.objects.of(company)
        .select_related("user", "company")
        .filter(user__email=email.strip().lower(), active=True)
        .first()
    )
    if member is None:
        raise BadValue(
            problem=f"{email} is nobody at {company.name}.",
            remedy="Give the address of an active member, or leave --by out.",
            value=email,
        )
    return member


def make_ready() -> None:
    """Make the tables of an embedded database that has none, so that the first command of all works too.

    Tables of an older version are changed while nobody works on them. Raises BadValue where that is still to
    be done, or a server's database to be made.
    """
    executor = MigrationExecutor(connection)
    if not executor.migration_plan(executor.loader.graph.leaf_nodes()):
        return
    if connection.vendor != "sqlite" or executor.loader.applied_migrations:
        raise BadValue(
            problem="The database's tables are not those of this version.",
            remedy="Stop Lapwise, run manage.py migrate, then this again.",
        )
    call_command("migrate", verbosity=0)


def _company(code: str | None) -> Company:
    companies = list(Company.objects.order_by("code"))
    if not companies:
        raise BadValue(problem="There is no company yet.", remedy="Load the demo with: manage.py demo load.")
    if code is None:
        if len(companies) == 1:
            return companies[0]
        named = ", ".join(company.code for company in companies)
        raise BadValue(problem=f"There are several companies: {named}.", remedy="Choose one with --company.")
    for company in companies:
        if company.code.casefold() == code.casefold():
            return company
    raise BadValue(
        problem=f"There is no company {code}.", remedy="Check the code after --company.", value=code
    )
