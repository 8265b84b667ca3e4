"""Which company a command works for, and who gave it: `--company CODE` and `--by EMAIL`."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser

from projects.actors import Actor, CommandLine
from projects.errors import BadValue
from projects.models import Company, Membership


def add_actor_options(parser: CommandParser) -> None:
    """Add the two options that every command on the database takes."""
    parser.add_argument("--company", metavar="CODE", help="needed only where there is more than one")
    parser.add_argument("--by", metavar="EMAIL", help="who gives the command; else the command line itself")


def choose_actor(options: dict[str, Any]) -> Actor:
    """Return who acts for which company. Raises BadValue where that is not clear."""
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
