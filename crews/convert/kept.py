"""The sheet that a plan's row keeps; no query here."""

from __future__ import annotations

from crews.dayplan.sheet import Sheet, sheet_from_json
from crews.models import DayPlan


def sheet_of_plan(plan: DayPlan) -> Sheet:
    """Return the plan's sheet as it was made."""
    return sheet_from_json(plan.plan)
