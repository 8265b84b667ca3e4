"""Founding a company and changing what holds for all of it."""

from __future__ import annotations

import zoneinfo

from django.db import transaction

from projects.actors import Actor, CommandLine
from projects.errors import BadValue
from projects.models import Company, Membership, Paper, Role, User
from projects.rights import Action, require
from projects.services.devices import end_phones_of
from projects.services.people import choose_password, clean_email
from projects.services.writing import created, record, stale, unless_taken
from projects.texts import clean_code, clean_text


@transaction.atomic
def found_company(
    *,
    code: str,
    name: str,
    owner_email: str,
    owner_name: str,
    password: str | None = None,
    currency: str = "USD",
    time_zone: str = "America/New_York",
) -> Membership:
    """Return the owner's membership of a new company.

    A person who can sign in already keeps the password. Without one, the owner needs a link to choose it.
    """
    values = {
        "code": clean_code(code, field="code", what="Company code"),
        "name": clean_text(name, field="name", what="Company name", longest=120),
        "currency": _currency(currency),
        "time_zone": _zone(time_zone),
    }
    with unless_taken("company_code_once", field="code", what="Company code", value=values["code"]):
        company = Company.objects.create(**values)
    address = clean_email(owner_email)
    named = clean_text(owner_name, field="owner_name", what="Owner's name", longest=120)
    user, new = User.objects.get_or_create(email=address, defaults={"name": named})
    if new and password is not None:
        choose_password(user=user, password=password)
    elif new:
        user.set_unusable_password()
        user.save(update_fields=["password"])
    owner = Membership.objects.create(company=company, user=user, role=Role.OWNER)
    end_phones_of(user, by=CommandLine(company))  # an owner does not stay signed in
    return created(owner, by=CommandLine(company), action="found company", shown=("role",))


@transaction.atomic
def edit_company(
    *,
    by: Actor,
    version: int | None,
    name: str,
    time_zone: str,
    sheets_hour: int,
    claim_days: int | None = None,
    paper: str | None = None,
    yard: str = "",
) -> Company:
    """Return the company as changed; `claim_days` and `paper` stay where they are not given.

    Raises StaleVersion where it was saved since `version`.
    """
    require(by, Action.EDIT_COMPANY)
    values: dict[str, object] = {
        "name": clean_text(name, field="name", what="Company name", longest=120),
        "time_zone": _zone(time_zone),
        "sheets_hour": _hour(sheets_hour),
        "yard": clean_text(yard, field="yard", what="Yard", longest=200, required=False),
    }
    if claim_days is not None:
        values["claim_days"] = _claim_days(claim_days)
    if paper is not None:
        values["paper"] = _paper(paper)
    company = Company.objects.select_for_update().get(pk=by.company.pk)
    if version is not None and company.version != version:
        raise stale(company, company=company)
    before = {field: getattr(company, field) for field in values}
    if before == values:
        return company
    for field, value in values.items():
        setattr(company, field, value)
    company.version += 1
    company.save(update_fields=[*values, "version"])
    record(by=by, action="edit company", subject=company, before=before, after=values)
    return company


def _currency(text: str) -> str:
    currency = text.strip().upper()
    if len(currency) != 3 or not currency.isascii() or not currency.isalpha():
        raise BadValue(
            problem=f"{text!r} is not a currency.",
            remedy="Use its three letters, such as USD.",
            value=text,
            field="currency",
        )
    return currency


def _zone(text: str) -> str:
    if text not in zoneinfo.available_timezones():
        raise BadValue(
            problem=f"{text!r} is not a time zone.",
            remedy="Choose one such as America/New_York.",
            value=text,
            field="time_zone",
        )
    return text


def _hour(hour: int) -> int:
    if not 0 <= hour <= 23:
        raise BadValue(
            problem=f"{hour} is not an hour of the day.",
            remedy="Use 0 to 23.",
            value=hour,
            field="sheets_hour",
        )
    return hour


def _claim_days(days: int) -> int:
    if not 0 <= days <= 60:
        raise BadValue(
            problem=f"{days} is no number of days to claim in.",
            remedy="Use 0 to 60.",
            value=days,
            field="claim_days",
        )
    return days


def _paper(paper: str) -> str:
    if paper not in Paper.values:
        raise BadValue(
            problem=f"{paper!r} is not a paper we print on.",
            remedy="Choose US Letter or A4.",
            value=paper,
            field="paper",
        )
    return paper
