"""Loads the demo through the same services that people use, all of it or nothing."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from django.db import transaction

from config.demo import crews, fitting, houses, people, supply, windows
from config.demo.files import company_code, rows, table
from materials.selectors.demand import WEEK, monday_of
from materials.selectors.orders import local_today
from openings.selectors import live_openings
from projects.errors import BadValue
from projects.models import Company, Membership, Role


def demo_company() -> Company | None:
    """Return the demo's company, None where it is not loaded.

    Raises BadValue where somebody else's company has its code: it is never taken for the demo.
    """
    company = Company.objects.filter(code__iexact=company_code()).first()
    if company is None:
        return None
    owner = next(row["email"] for row in table("company.toml")["people"] if row["role"] == Role.OWNER)
    if not Membership.objects.of(company).filter(user__email=owner).exists():
        raise BadValue(
            problem=f"{company.code} is a company of its own: {owner} is nobody there.",
            remedy="Leave it alone; the demo needs this code for itself.",
            value=company.code,
        )
    return company


@transaction.atomic
def load_demo(monday: date | None = None) -> Mapping[str, int]:
    """Load the demo, its first week that of `monday` or next week; return what there is of each thing."""
    told = table("company.toml")
    cast = people.found(told)
    first = monday_of(monday) if monday else next_monday(cast.company)
    projects = table("projects.toml")
    built = houses.set_up(cast, projects)
    fits = table("fitting.toml")
    fitting.say_what_is_used(cast, fits)
    sheets = fitting.attach_sheets(cast, fits)
    windows.come(cast, projects, built)
    supply.set_prices(cast, table("suppliers.toml"), monday=first)
    supply.want_houses(cast, projects, built, monday=first)
    sent_out = crews.set_up(cast, told)
    days = crews.tell_weather(cast, rows("forecast.csv"), monday=first)
    sent = crews.send(cast, table("assignments.toml"), crews=sent_out, houses=built, monday=first)
    crews.ask_for_sheets(cast, sent_out.values(), monday=first)
    stock = table("stock.toml")
    lots = supply.lay_in(cast, stock, monday=first)
    supply.build_in_the_sample(cast, stock, built)
    orders = supply.order(cast, projects, built, monday=first)
    windows.come_as_revised(cast, projects, built)
    supply.receive_first_part(cast, stock, monday=first)
    supply.cut_for_the_first_day(cast, monday=first)
    return {
        "people": len(cast.by_email),
        "projects": len(projects["projects"]),
        "houses": len(built),
        "openings": live_openings(cast.company).count(),
        "crews": len(sent_out),
        "assignments": sent,
        "days of weather": days,
        "lots": lots,
        "instruction sheets": sheets,
        "orders": orders,
    }


def next_monday(company: Company) -> date:
    """Return the Monday of next week at the company."""
    return monday_of(local_today(company)) + WEEK


def sign_ins() -> list[dict[str, str]]:
    """Return who signs in to the demo, with the open password."""
    told = table("company.toml")
    password = told["company"]["demo_password"]
    return [
        {"name": row["name"], "role": row["role"], "email": row["email"], "password": password}
        for row in told["people"]
    ]
