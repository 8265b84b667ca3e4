"""`cost --house CODE`: what each opening of a house is planned to cost, part by part."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.core.management.base import CommandParser

from crews.costing.cost import CostPart, Group, HouseCost, OpeningCost
from crews.selectors.costs import CostedHouse, CostedOpening, cost_houses
from projects.choosing import add_actor_options, choose_actor
from projects.commandline import Answer, AnswerCommand
from projects.errors import BadValue
from projects.quantities.money import Money
from projects.rights import Action, require
from projects.selectors import house_by_code


class Command(AnswerCommand):
    """Answers the planned cost of a house, opening by opening; the openings sum to the house to the cent."""

    help = "Planned cost per opening of a house: material, labour, other, each with its parts."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the house and who asks."""
        parser.add_argument("--house", required=True, metavar="CODE", help="a house that is stored")
        add_actor_options(parser)

    def answer(self, **options: Any) -> Answer:
        """Return the cost. Raises BadValue for an unknown house, and where no wage is known."""
        by = choose_actor(options)
        require(by, Action.SEE_COSTS)
        house = house_by_code(by.company, options["house"])
        found = cost_houses(by.company, [house])[0]
        if found.cost is None:
            raise BadValue(
                problem="No wage is known for this house's crews.",
                remedy="The office sets wages on a crew's page.",
                value=house.code,
            )
        return Answer(
            values=_document(found, found.cost),
            problems=found.problems,
            notices=found.notices,
            refused=bool(found.problems) and not found.openings,
        )

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return a line per opening and the sum."""
        told = [f"{'Opening':<12} {'material':>10} {'labour':>10} {'other':>10} {'total':>10}"]
        told += [_line(row["mark"], row) for row in document["openings"]]
        return [*told, _line(document["house"], document)]


def _line(name: str, row: Mapping[str, Any]) -> str:
    amounts = (row[key]["amount"] for key in ("material", "labour", "other", "total"))
    return f"{name:<12} " + " ".join(f"{amount:>10}" for amount in amounts)


def _document(found: CostedHouse, cost: HouseCost) -> dict[str, Any]:
    return {
        "house": found.house.code,
        "currency": cost.currency,
        "specification": found.in_force.label,
        "rules_version": found.rules_version,
        "priced_on": found.priced_on.isoformat(),
        "openings": [_opening(each) for each in found.openings],
        **{group.value: _amount(cost.of(group)) for group in Group},
        "total": _amount(cost.total),
    }


def _opening(found: CostedOpening) -> dict[str, Any]:
    cost = found.cost
    return {
        "mark": cost.mark,
        "elevation": found.face,
        "method": found.method,
        **{group.value: {**_amount(cost.of(group)), "parts": _parts(cost, group)} for group in Group},
        "total": {
            **_amount(cost.total),
            "parts": [{"part": group.value, **_amount(cost.of(group))} for group in Group],
        },
    }


def _parts(cost: OpeningCost, group: Group) -> list[dict[str, Any]]:
    return [_part(part) for part in cost.parts if part.group is group]


def _part(part: CostPart) -> dict[str, Any]:
    return {
        "part": part.name,
        "quantity": float(part.quantity),
        "unit": part.unit,
        "cents_per_unit": float(part.cents_per_unit),
        **_amount(part.amount),
        "basis": part.basis,
    }


def _amount(money: Money) -> dict[str, str]:
    return {"amount": money.as_text, "currency": money.currency}
