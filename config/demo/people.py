"""The demo's company and the people who sign in to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from projects import services
from projects.models import Company, Membership, Role


@dataclass(frozen=True, slots=True)
class Cast:
    """Everybody of the demo, by address; each part of it is done by whom it would be done in life."""

    company: Company
    by_email: Mapping[str, Membership]

    @property
    def owner(self) -> Membership:
        """Return who sets up people, prices and the company."""
        return self._first(Role.OWNER)

    @property
    def manager(self) -> Membership:
        """Return who enters houses and orders."""
        return self._first(Role.MANAGER)

    @property
    def foreman(self) -> Membership:
        """Return who sends crews out."""
        return self._first(Role.FOREMAN)

    def _first(self, role: Role) -> Membership:
        return next(member for member in self.by_email.values() if member.role == role)


def found(told: Mapping[str, Any]) -> Cast:
    """Return the company of `told` (`company.toml`) with its people, each with the demo's open password."""
    company, password = told["company"], told["company"]["demo_password"]
    first = next(person for person in told["people"] if person["role"] == Role.OWNER)
    owner = services.found_company(
        code=company["code"],
        name=company["name"],
        owner_email=first["email"],
        owner_name=first["name"],
        password=password,
        currency=company["currency"],
        time_zone=company["time_zone"],
    )
    services.edit_company(
        by=owner,
        version=None,
        name=company["name"],
        time_zone=company["time_zone"],
        sheets_hour=company["sheets_hour"],
        yard=company["yard"],
    )
    owner.company.refresh_from_db()
    members = {owner.user.email: owner}
    for person in told["people"]:
        if person is first:
            continue
        member = services.invite_person(
            by=owner, email=person["email"], name=person["name"], role=person["role"]
        )
        services.choose_password(user=member.user, password=password)
        members[member.user.email] = member
    return Cast(owner.company, members)
