"""What the pages of projects, houses and people show: one call per page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from django.core.paginator import InvalidPage, Page, Paginator
from django.db.models import Count, F, Q, QuerySet
from django.utils import timezone

from projects.errors import BadValue, NotThere
from projects.models import (
    AuditEntry,
    Company,
    Device,
    Elevation,
    HeaderMatch,
    House,
    Membership,
    Owned,
    Project,
    User,
)

PAGE_ROWS = 100
LONGEST_SEARCH = 200
PHONES_SHOWN = 20

Row = TypeVar("Row", bound=Owned)


@dataclass(frozen=True, slots=True)
class ProjectPage:
    """A project and one page of its houses, each with `elevation_count`."""

    project: Project
    houses: Page[House]
    archived_houses: int


@dataclass(frozen=True, slots=True)
class OwnPhone:
    """A phone on which somebody stays or stayed signed in; `over_at` is None while it opens."""

    pk: int
    name: str
    made_at: datetime
    seen_at: datetime
    over_at: datetime | None


def local_today(company: Company) -> date:
    """Return today at the company."""
    return local_time(company, timezone.now()).date()


def local_time(company: Company, moment: datetime) -> datetime:
    """Return a moment as the company's clock shows it."""
    return moment.astimezone(ZoneInfo(company.time_zone))


def version_of(company: Company, rows: Sequence[Owned], action: str) -> int:
    """Return the version of what `action` says of the rows, all of one kind: 1 before it ever did.

    It counts audit rows, which nobody can take away: what was deleted and set again has another version.
    """
    if not rows:
        return 1
    entries = AuditEntry.objects.of(company).filter(action=action, subject_kind=rows[0]._meta.label_lower)
    return 1 + entries.filter(subject_id__in=[row.pk for row in rows]).count()


def row_of(model: type[Row], company: Company, pk: int, *related: str) -> Row:
    """Return the company's row with this primary key. Raises NotThere, for another company's row alike."""
    rows: QuerySet[Row] = model.objects.of(company)
    found = rows.select_related("company", *related).filter(pk=pk).first()
    if found is None:
        raise NotThere
    return found


def projects_page(
    company: Company, *, search: str = "", archived: bool = False, page: str = "1"
) -> Page[Project]:
    """Return one page of projects by name, each with `house_count`."""
    rows = Project.objects.of(company).filter(archived=archived)
    if search:
        words = _searchable(search)
        rows = rows.filter(Q(name__icontains=words) | Q(code__icontains=words) | Q(builder__icontains=words))
    counted = rows.annotate(house_count=Count("houses", filter=Q(houses__archived=False)))
    return page_of(counted.order_by("name", "id"), page)


def project_page(
    company: Company, pk: int, *, search: str = "", archived: bool = False, page: str = "1"
) -> ProjectPage:
    """Return a project with one page of its houses by code."""
    project = row_of(Project, company, pk)
    houses = House.objects.of(company).filter(project=project)
    put_away = houses.filter(archived=True).count()
    shown = houses.filter(archived=archived)
    if search:
        words = _searchable(search)
        shown = shown.filter(
            Q(name__icontains=words) | Q(code__icontains=words) | Q(plan_name__icontains=words)
        )
    counted = shown.annotate(elevation_count=Count("elevations")).order_by("code", "id")
    return ProjectPage(project=project, houses=page_of(counted, page), archived_houses=put_away)


def live_projects(company: Company) -> QuerySet[Project]:
    """Return the projects that are not archived, by name."""
    return Project.objects.of(company).filter(archived=False).order_by("name", "id")


def live_houses(company: Company) -> QuerySet[House]:
    """Return the houses that are not archived, nor their project, by code, each with its project."""
    rows = House.objects.of(company).filter(archived=False, project__archived=False)
    return rows.select_related("project").order_by("code", "id")


def house_by_code(company: Company, code: str) -> House:
    """Return the company's house of this code, in any case. Raises BadValue where there is none."""
    found = House.objects.of(company).select_related("company", "project").filter(code__iexact=code).first()
    if found is None:
        raise BadValue(
            problem=f"There is no house {code!r}.",
            remedy="Give the code of a house on the project's page.",
            value=code,
        )
    return found


def elevations_of(house: House) -> QuerySet[Elevation]:
    """Return the house's elevations in walking order."""
    return Elevation.objects.of(house.company).filter(house=house).order_by("walking_order", "id")


def headers_of(company: Company, builder: str) -> dict[str, str | None]:
    """Return what the builder calls our columns: their header to our name, empty where nothing is known."""
    match = HeaderMatch.objects.of(company).filter(builder__iexact=builder.strip()).first()
    return dict(match.mapping) if match else {}


def people_of(company: Company) -> QuerySet[Membership]:
    """Return everybody who belongs or belonged to the company, the active ones first, by name."""
    return Membership.objects.of(company).select_related("user").order_by("-active", "user__name", "id")


def membership_in(company: Company, user_pk: int) -> Membership:
    """Return the place in the company that the person has or had. Raises NotThere for people of others."""
    found = people_of(company).filter(user=user_pk).first()
    if found is None:
        raise NotThere
    return found


def memberships_of(user: User) -> list[Membership]:
    """Return the person's places in companies, by company name."""
    rows = Membership.objects.filter(user=user, active=True).select_related("company", "user")
    return list(rows.order_by("company__name", "id"))


def device_of_token(token_hash: str) -> Device | None:
    """Return the phone whose token, or the one before it, has this SHA-256, with its person: one look."""
    rows = Device.objects.select_related("user")
    return rows.filter(Q(token_hash=token_hash) | Q(previous_hash=token_hash)).first()


def device_at_hand(pk: int | None) -> Device | None:
    """Return the phone that a session names, None where it names none."""
    return Device.objects.filter(pk=pk).first() if pk is not None else None


def device_of(company: Company, pk: int) -> Device:
    """Return the phone of somebody who belongs or belonged to the company. Raises NotThere for others."""
    rows = Device.objects.select_related("user").filter(user__memberships__company=company)
    found = rows.filter(pk=pk).first()
    if found is None:
        raise NotThere
    return found


def phones_of(user: User) -> list[OwnPhone]:
    """Return the person's phones, those that open first, then the latest; no more than 20."""
    now = timezone.now()
    rows = Device.objects.filter(user=user).order_by(F("ended_at").desc(nulls_first=True), "-made_at", "-id")
    shown = [
        OwnPhone(row.pk, row.name, row.made_at, row.seen_at, row.over_at(now)) for row in rows[:PHONES_SHOWN]
    ]
    return sorted(shown, key=lambda phone: phone.over_at is not None)


def changes_of(row: Owned) -> QuerySet[AuditEntry]:
    """Return what was written about the row, newest first."""
    entries = AuditEntry.objects.of(row.company)
    return entries.filter(subject_kind=row._meta.label_lower, subject_id=row.pk).order_by("-id")


def page_of(rows: QuerySet[Row] | Sequence[Any], number: str, *, size: int = PAGE_ROWS) -> Page[Any]:
    """Return page `number` of the rows. Raises NotThere where there is no such page."""
    try:
        return Paginator(rows, size).page(number or "1")
    except InvalidPage as error:
        raise NotThere from error


def _searchable(text: str) -> str:
    return text.replace("\x00", "").strip()[:LONGEST_SEARCH]
