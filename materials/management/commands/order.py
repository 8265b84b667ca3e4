"""Make the drafts of a week: `order --week DATE`; a second run creates nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from django.core.management.base import CommandParser

from materials import services
from materials.selectors.demand import WeekDemand, by_material, monday_of, week_demand
from materials.selectors.orders import OrderShown, orders_of
from materials.selectors.pages import losses_shown
from openings.selectors import find_house
from projects.actors import Actor
from projects.choosing import add_actor_options, choose_actor
from projects.commandline import Answer, AnswerCommand
from projects.errors import BadValue, NotThere
from projects.models import House
from projects.quantities.length import Length
from projects.quantities.volume import Volume

UNITS = {"length": "in", "volume": "in3", "pieces": "piece"}


class Command(AnswerCommand):
    """Orders what a week's houses need and nothing covers yet, one draft per supplier."""

    help = "Make the week's draft orders, one per supplier."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the published options."""
        parser.add_argument("--week", required=True, metavar="DATE", help="any day of the week")
        parser.add_argument("--houses", metavar="CODE,...", help="only these houses")
        add_actor_options(parser)

    def answer(self, **options: Any) -> Answer:
        """Return the week's demand and all its orders, after making the drafts that lacked."""
        actor = choose_actor(options)
        week = monday_of(_day(options["week"]))
        houses = _houses(actor, options["houses"])
        drafts = services.make_drafts(by=actor, week=week, houses=houses)
        demand = week_demand(actor.company, week, houses)
        notices = [f"{short.material}: {short.reason}" for short in drafts.shortages]
        notices += [
            f"{loss.quantity} of {loss.name}, {loss.source}, is past its last good day {loss.last_good}."
            for loss in losses_shown(actor.company, drafts.losses)
        ]
        return Answer(
            {
                "week": week.isoformat(),
                "demands": _demands(demand),
                "orders": [_order(order) for order in orders_of(actor.company, week=week)],
            },
            problems=demand.problems,
            notices=notices,
        )

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return a line per order and per order line."""
        told = [f"Week of {document['week']}"]
        for order in document["orders"]:
            name = f"{order['number']}, {order['state']}" if order["number"] else order["state"]
            told.append(f"{order['supplier']}: {name}, {order['total']} {order['currency']}")
            told += [
                f"  {line['packs']} x {line['pack']} {line['material']}: {line['total']}"
                for line in order["lines"]
            ]
        return told if document["orders"] else [*told, "Nothing to order."]


def _demands(demand: WeekDemand) -> list[dict[str, Any]]:
    units = {need.material.key: need.material.unit for each in demand.openings for need in each.needs}
    houses: dict[str, set[str]] = {}
    for each in demand.openings:
        for need in each.needs:
            houses.setdefault(need.material.key, set()).add(each.house)
    return [
        {
            "material": pooled.material,
            "need": in_unit(units[pooled.material], pooled.quantity),
            "unit": UNITS[units[pooled.material]],
            "needed": pooled.needed.isoformat(),
            "houses": sorted(houses[pooled.material]),
        }
        for pooled in by_material(demand.openings)
    ]


def in_unit(unit: str, quantity: int) -> float | int:
    """Return a base quantity in the unit of JSON answers: inches, cubic inches or pieces."""
    if unit == "length":
        return Length(quantity).in_inches
    return Volume(quantity).in_cubic_inches if unit == "volume" else quantity


def _order(order: OrderShown) -> dict[str, Any]:
    return {
        "supplier": order.row.supplier.code,
        "number": order.row.number,
        "state": order.state,
        "deliver_to": order.row.deliver_to,
        "deliver_by": order.row.deliver_by.isoformat() if order.row.deliver_by else None,
        "lines": [
            {
                "material": line.row.material,
                "need": in_unit(line.row.unit, line.row.need),
                "unit": UNITS[line.row.unit],
                "pack": line.row.pack,
                "packs": line.row.packs,
                "unit_price": line.unit_price.as_text,
                "total": line.total.as_text,
            }
            for line in order.lines
        ],
        "total": order.total.as_text,
        "currency": order.total.currency,
    }


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadValue(
            problem=f"{text!r} is not a day.", remedy="Write it as 2026-06-08.", value=text
        ) from None


def _houses(actor: Actor, codes: str | None) -> list[House] | None:
    if codes is None:
        return None
    found = []
    for code in filter(None, (code.strip() for code in codes.split(","))):
        try:
            found.append(find_house(actor.company, code))
        except NotThere:
            raise BadValue(
                problem=f"There is no house {code}.", remedy="Check the codes after --houses.", value=code
            ) from None
    return found
