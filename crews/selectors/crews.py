"""Crews with their people, and who could be one of them."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Prefetch, QuerySet

from crews.models import Crew, CrewMember
from projects.errors import NotThere
from projects.models import Company, Membership, User
from projects.quantities.money import Money


@dataclass(frozen=True, slots=True)
class MemberShown:
    """One pair of hands; `wage` is for those who may see costs."""

    row: CrewMember
    wage: Money | None


@dataclass(frozen=True, slots=True)
class CrewShown:
    """A crew with its people, those who left apart."""

    row: Crew
    members: tuple[MemberShown, ...]
    former: tuple[MemberShown, ...]

    @property
    def start(self) -> str:
        """Return when the day starts."""
        return clock(self.row.day_start_min)

    @property
    def end(self) -> str:
        """Return when the day ends."""
        return clock(self.row.day_end_min)


def clock(minute: int) -> str:
    """Return a minute of the day as people write it: 7:05."""
    return f"{minute // 60}:{minute % 60:02d}"


def crews_of(company: Company, *, archived: bool = False) -> list[CrewShown]:
    """Return the company's crews by code. Two queries."""
    rows = Crew.objects.of(company).filter(archived=archived).prefetch_related(_with_people())
    return [_shown(row, company.currency) for row in rows]


def crew_page(company: Company, pk: int) -> CrewShown:
    """Return one crew with its people. Raises NotThere."""
    rows = Crew.objects.of(company).select_related("company", "foreman").prefetch_related(_with_people())
    row = rows.filter(pk=pk).first()
    if row is None:
        raise NotThere
    return _shown(row, company.currency)


def crew_by_code(company: Company, code: str) -> Crew:
    """Return the company's crew of this code, in any case. Raises NotThere."""
    row = Crew.objects.of(company).select_related("company").filter(code__iexact=code.strip()).first()
    if row is None:
        raise NotThere
    return row


def crew_of_person(company: Company, user: User) -> Crew | None:
    """Return the crew that the person works in or leads, None where there is none."""
    ours = Crew.objects.of(company).filter(archived=False).select_related("company")
    as_hand = ours.filter(members__user=user, members__archived=False).first()
    return as_hand or ours.filter(foreman=user).first()


def people_to_choose(company: Company) -> QuerySet[User]:
    """Return the people who sign in for the company, by name."""
    active = Membership.objects.of(company).filter(active=True).values("user")
    return User.objects.filter(pk__in=active).order_by("name", "pk")


def _with_people() -> Prefetch[str]:
    return Prefetch("members", CrewMember.objects.select_related("user"))


def _shown(row: Crew, currency: str) -> CrewShown:
    people = [
        MemberShown(each, None if each.wage_cents is None else Money(each.wage_cents, currency))
        for each in row.members.all()
    ]
    return CrewShown(
        row,
        tuple(each for each in people if not each.row.archived),
        tuple(each for each in people if each.row.archived),
    )
