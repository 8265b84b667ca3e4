"""What the database itself refuses about crews: nobody is sent where nobody can go, and made plans
and what was written down of the work stay.

That a crew is at one elevation at a time, and an elevation has one crew a day, are constraints of the table.
"""

from __future__ import annotations

from projects.models import UNPLACED
from projects.triggers import Trigger, append_only

_NOWHERE = (
    "EXISTS (SELECT 1 FROM projects_elevation f JOIN projects_house h ON h.id = f.house_id "  # noqa: S608  # our names
    "JOIN projects_project p ON p.id = h.project_id "
    f"WHERE f.id = NEW.elevation_id AND (f.name = '{UNPLACED}' OR h.archived OR p.archived))"
)
_ARCHIVED_CREW = "EXISTS (SELECT 1 FROM crews_crew c WHERE c.id = NEW.crew_id AND c.archived)"
_TO_NOWHERE = "a crew is sent to an elevation that is not placed, or archived"
_NOBODY = "an archived crew is sent nowhere"

_OF_ANOTHER_STEP = (
    "NEW.takes_back_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM crews_workrecord r"
    " JOIN crews_workentry was ON was.id = r.entry_id JOIN crews_workentry e ON e.id = NEW.entry_id"
    " WHERE r.id = NEW.takes_back_id AND r.step = NEW.step AND r.takes_back_id IS NULL"
    " AND was.opening_id = e.opening_id)"
)

TRIGGERS: tuple[Trigger, ...] = (
    Trigger("assignment_to_nowhere_added", "crews.Assignment", "INSERT", _NOWHERE, _TO_NOWHERE),
    Trigger(
        "assignment_to_nowhere_moved", "crews.Assignment", "UPDATE OF elevation_id", _NOWHERE, _TO_NOWHERE
    ),
    Trigger("assignment_of_nobody_added", "crews.Assignment", "INSERT", _ARCHIVED_CREW, _NOBODY),
    Trigger("assignment_of_nobody_moved", "crews.Assignment", "UPDATE OF crew_id", _ARCHIVED_CREW, _NOBODY),
    *append_only("crews.DayPlan"),
    *append_only("crews.WorkEntry"),
    *append_only("crews.WorkRecord"),
    Trigger("work_taken_back", "crews.WorkRecord", "INSERT", _OF_ANOTHER_STEP, "a record of another step"),
)
