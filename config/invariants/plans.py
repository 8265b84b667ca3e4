"""What must hold of kept plans and totals: the same inputs bring them again."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from config.invariants.report import Search, searched
from crews.dayplan.sheet import sheet_as_json
from crews.models import DayPlan
from crews.selectors.days import day_inputs
from crews.services.planning import make_sheet
from materials.catalogue.kept import plain_totals
from materials.catalogue.totals import hashes_of, total_up
from materials.models import KeptRollUp
from openings.selectors import InForce, fingerprints, geometries_by_house, specifications_in_force
from openings.takeoff.tally import tally_houses
from projects.models import Company

AT_ONCE = 50


def can_be_planned_again(company: Company) -> Search:
    """I7: a day's plan whose inputs are still the same is the plan that they bring."""
    plans = DayPlan.objects.of(company).select_related("crew__company").order_by("pk")
    return searched(
        (f"crew {plan.crew.code} on {plan.date}", _of_plan(company, plan)) for plan in plans.iterator(AT_ONCE)
    )


def can_be_summed_again(company: Company) -> Search:
    """I7: a house's kept totals, where its openings are still the same, are those that they come to."""
    rows = list(KeptRollUp.objects.of(company).select_related("house__project__company").order_by("pk"))
    in_force = specifications_in_force(list({row.house.project for row in rows}))
    return searched(
        (f"house {row.house.code}", _of_totals(company, row, in_force[row.house.project_id])) for row in rows
    )


def _of_plan(company: Company, plan: DayPlan) -> Iterator[str]:
    inputs = day_inputs(company, plan.crew, plan.date)
    if inputs.input_hash == plan.input_hash and _as_kept(sheet_as_json(make_sheet(inputs))) != plan.plan:
        yield "has a plan that its inputs do not bring"


def _of_totals(company: Company, row: KeptRollUp, in_force: InForce) -> Iterator[str]:
    house, specification = row.house, in_force.specification
    now = hashes_of(fingerprints(company, [house]), specification)[house.pk]
    if now != row.input_hash:
        return  # stale: whoever looks at the house gets it made anew
    tally = tally_houses([geometries_by_house(company, [house])[house.pk]], specification)[0]
    if _as_kept(plain_totals(total_up(tally, specification))) != row.totals:
        yield "has kept totals that its openings do not come to"


def _as_kept(value: dict[str, Any]) -> Any:
    """Return a value as JSON gives it back: lists for tuples."""
    return json.loads(json.dumps(value))
