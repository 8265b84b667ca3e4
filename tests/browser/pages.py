"""Every page that somebody can open, from the access matrix: what the matrix has, the browser visits."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import resolve, reverse

from tests.access import matrix
from tests.browser.site import Site

# Answers for machines and files, which no browser lays out.
NO_PAGES = {
    *("healthz", "readyz", "job-file", "schedule-refused-rows", "window-photo"),
    *("order-csv", "order-xlsx", "order-xml", "receipt-xml", "price-list-today", "instruction-file"),
    *("house-takeoff-csv", "house-takeoff-xlsx", "project-takeoff-csv", "project-takeoff-xlsx"),
    *("cut-list-house-csv", "cut-list-house-xlsx", "cut-list-day-csv", "cut-list-day-xlsx"),
    *("cut-list-order-csv", "cut-list-order-xlsx"),
    *("costs-csv", "costs-xlsx", "house-costs-csv", "house-costs-xlsx"),
    *("stock-csv", "stock-xlsx", "deliveries-calendar", "crew-days"),
}
OFFICE_FIRST = ("manager", "owner", "foreman", "crew")
ON_SITE = ("crews.", "openings.views.windows")
SITE_FIRST = ("foreman", "crew", "manager", "owner")


@dataclass(frozen=True)
class Place:
    """A page: what it is called, where it lies, who opens it (nobody signed in where empty)."""

    name: str
    address: str
    role: str


def places(site: Site, *roles: str) -> list[Place]:
    """Return the pages that each of `roles` may open, in the matrix's order.

    An empty company has nothing that an address could name; the demo has one of everything, or this fails.
    """
    return [
        Place(name=f"{role}-{row.route}", address=address_of(row, site), role=role)
        for row in matrix.rows()
        for role in roles
        if row.method == "GET" and row.route not in NO_PAGES and row.expected[role] == 200
        if site.things or not names_things(row)
    ]


def album(site: Site) -> list[Place]:
    """Return each page once, as whoever works with it most; the first page of the day for every role.

    An order's page stands twice: a draft's, and an issued one's, of which something has come.
    """
    homes = [Place(f"home-{role}", reverse("home"), role) for role in site.people]
    rest: dict[str, Place] = {}
    for place in places(site, *OFFICE_FIRST):
        name = place.name.partition("-")[2]
        match = resolve(place.address)
        first = SITE_FIRST if match.func.__module__.startswith(ON_SITE) else OFFICE_FIRST
        known = rest.get(name)
        if name != "home" and (known is None or first.index(place.role) < first.index(known.role)):
            rest[name] = Place(name, place.address, place.role)
    if site.things:
        address = reverse("order", args=[site.things["issued"]().pk])
        rest["order-issued"] = Place("order-issued", address, "manager")
    return [*homes, *rest.values(), *strangers()]


def refusing(site: Site) -> list[Place]:
    """Return the album's pages whose form, sent empty, is refused: so says the matrix."""
    sent = {
        (row.route, role)
        for row in matrix.rows()
        for role in row.expected
        if row.method == "POST"
        if row.expected[role] == 422
    }
    return [place for place in album(site) if (place.name, place.role) in sent]


def strangers() -> list[Place]:
    """Return the pages for whoever is not signed in, and those that refuse."""
    nowhere = "/projects/999999/"
    return [
        Place("sign-in", reverse("sign-in"), ""),
        Place("old-link", reverse("choose-password", args=["MQ", "used-1"]), ""),
        Place("not-there", nowhere, "owner"),
        Place("not-allowed", reverse("company"), "crew"),
    ]


def names_things(row: matrix.Row) -> bool:
    """Return whether the address names something of the company's, such as a house."""
    return any("=" in word for word in row.arguments.split())


def address_of(row: matrix.Row, site: Site) -> str:
    """Return the row's address for the company's things, days those of its first week."""
    filled: dict[str, object] = {}
    for word in row.arguments.split():
        name, equals, thing = word.partition("=")
        if equals:
            filled[name] = site.things[thing]().pk
        else:
            name, _, text = word.partition(":")
            filled[name] = site.days.get(name, text)
    return reverse(row.route, kwargs=filled)
