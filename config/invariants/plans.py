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
from projects.models import Company


def can_be_planned_again(company: Company) -> Search:
    """I7: a day's plan whose inputs are still the same is the plan that they bring."""
    plans = DayPlan.objects.of(company).select_related("crew__company").order_by("pk")
    return searched(
        (f"crew {plan.crew.code} on {plan.date}", _faults(company, plan)) for plan in plans.iterator(50)
    )


def _faults(company: Company, plan: DayPlan) -> Iterator[str]:
    inputs = day_inputs(company, plan.crew, plan.date)
    if inputs.input_hash == plan.input_hash and _as_kept(sheet_as_json(make_sheet(inputs))) != plan.plan:
        yield "has a plan that its inputs do not bring"


def _as_kept(plan: dict[str, Any]) -> Any:
    """Return a plan as JSON gives it back: lists for tuples."""
    return json.loads(json.dumps(plan))
