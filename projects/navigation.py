"""Where a person can go, by role: one list, of which each app's pages fill their place."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import NoReverseMatch, reverse

from projects.models import Membership
from projects.rights import Action, may


@dataclass(frozen=True, slots=True)
class Place:
    """One entry of the navigation: what it is called, the name of its address, the right it takes."""

    label: str
    url_name: str
    action: Action


PLACES = (
    Place("Today", "home", Action.SEE_SHEETS),
    Place("Projects", "projects", Action.SEE_HOUSES),
    Place("Orders", "orders", Action.SEE_ORDERS),
    Place("Stock", "stock", Action.SEE_STOCK),
    Place("Week", "week", Action.SEE_PLAN),
    Place("Costs", "costs", Action.SEE_COSTS),
    Place("People", "people", Action.EDIT_PEOPLE),
)


@dataclass(frozen=True, slots=True)
class Link:
    """A navigation entry as a page shows it."""

    label: str
    address: str
    is_here: bool


def links_for(membership: Membership, path: str) -> list[Link]:
    """Return the entries the person may open; the deepest one that `path` lies under is where they are."""
    found = [
        (place.label, address)
        for place in PLACES
        if may(membership, place.action) and (address := address_of(place.url_name))
    ]
    under = [
        address for _, address in found if path == address or (address != "/" and path.startswith(address))
    ]
    here = max(under, key=len, default="")
    return [Link(label=label, address=address, is_here=address == here) for label, address in found]


def address_of(url_name: str, *args: object) -> str:
    """Return the address of the named page, empty where no app has such a page."""
    try:
        return reverse(url_name, args=args)
    except NoReverseMatch:
        return ""
