"""What an order's numbers come from, kept whole with the order, and the same numbers made from it again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from materials.models import Price
from materials.ordering.lacking import NOTHING, Amount, lacking
from materials.selectors.demand import Key, needs_of
from materials.selectors.growth import amount_of
from openings.convert import COLUMNS, input_of_columns
from openings.models import Opening, SpecificationVersion
from openings.selectors import latest_specification
from openings.takeoff.settings import apply_settings
from openings.takeoff.specification import DEFAULT, Specification
from projects.models import Company, Project


def inputs_of(
    company: Company,
    *,
    keys: Iterable[Key],
    had: Mapping[Key, Amount],
    prices: Iterable[Price],
    laps: Mapping[str, int],
) -> dict[str, Any]:
    """Return all that the amounts for `keys` are made from: openings, settings as text, prices, what was had.

    `laps` are those of the materials that were counted spliced; without any, nothing is said of them.
    It refers to nothing that can change later, and is plain JSON.
    """
    wanted = sorted(keys)
    openings = [dict(row) for row in _columns(company, {opening for opening, _ in wanted})]
    projects = Project.objects.of(company).filter(pk__in={row["house__project"] for row in openings})
    return {
        "openings": openings,
        "settings": {
            "company": _settings(latest_specification(company, None)),
            "projects": {str(one.pk): _settings(latest_specification(company, one)) for one in projects},
        },
        "had": [
            [*key, had[key].quantity, {str(length): count for length, count in had[key].pieces.items()}]
            for key in wanted
            if key in had
        ],
        "prices": sorted(_price(price) for price in prices),
        **({"laps": dict(sorted(laps.items()))} if laps else {}),
    }


def _price(price: Price) -> list[Any]:
    return [
        *(price.material, price.pack, price.pack_size, price.price_cents),
        *(price.valid_from.isoformat(), price.breaks),
    ]


def amounts_again(inputs: Mapping[str, Any]) -> dict[Key, Amount]:
    """Return how much of each material each opening lacked, from kept inputs alone."""
    had = {
        (opening, material): amount_of(quantity, pieces)
        for opening, material, quantity, pieces in inputs["had"]
    }
    found: dict[Key, Amount] = {}
    for row in inputs["openings"]:
        needs, _ = needs_of([input_of_columns(row)], _specification(inputs, row["house__project"]))
        for need in needs[row["mark"]]:
            key = (row["id"], need.material.key)
            found[key] = lacking(Amount(need.quantity, dict(need.pieces)), had.get(key, NOTHING))
    return found


def _columns(company: Company, openings: Iterable[int]) -> Sequence[dict[str, Any]]:
    rows = Opening.objects.of(company).filter(pk__in=list(openings)).order_by("pk")
    return list(rows.values("id", "house__project", *COLUMNS))


def _settings(version: SpecificationVersion | None) -> dict[str, str]:
    return dict(version.settings) if version else {}


def _specification(inputs: Mapping[str, Any], project: int) -> Specification:
    settings = inputs["settings"]
    return apply_settings(apply_settings(DEFAULT, settings["company"]), settings["projects"][str(project)])
