"""What the database itself refuses: a changed specification, and windows accepted that nobody counted."""

from __future__ import annotations

from openings.windows.standing import Kind
from projects.triggers import Trigger, append_only

_RECORD = "openings.WindowRecord"
_NEVER_COUNTED = (
    f"NEW.kind = '{Kind.ACCEPTED}' AND NOT EXISTS (SELECT 1 FROM openings_windowrecord r"  # noqa: S608  # our words
    f" WHERE r.opening_id = NEW.opening_id AND r.kind = '{Kind.COUNTED}'"
    " AND r.width_nm = NEW.width_nm AND r.height_nm = NEW.height_nm"
    " AND NOT EXISTS (SELECT 1 FROM openings_windowrecord b WHERE b.takes_back_id = r.id))"
)
_NOT_SCHEDULED = (
    f"NEW.kind = '{Kind.ACCEPTED}' AND NOT EXISTS (SELECT 1 FROM openings_opening o"  # noqa: S608  # our words
    " WHERE o.id = NEW.opening_id AND o.unit_width_nm = NEW.width_nm AND o.unit_height_nm = NEW.height_nm)"
)
_OF_ANOTHER_HOUSE = (
    "NOT EXISTS (SELECT 1 FROM openings_windowentry e JOIN openings_opening o ON o.house_id = e.house_id"
    " WHERE e.id = NEW.entry_id AND o.id = NEW.opening_id)"
)
_NOT_NEXT = (
    "NEW.number <> 1 + COALESCE((SELECT MAX(r.number) FROM openings_windowrecord r"
    " WHERE r.opening_id = NEW.opening_id), 0)"
)
_OF_ANOTHER_WINDOW = (
    "NEW.takes_back_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM openings_windowrecord r"  # noqa: S608  # our words
    f" WHERE r.id = NEW.takes_back_id AND r.opening_id = NEW.opening_id AND r.kind <> '{Kind.TAKEN_BACK}')"
)

TRIGGERS: tuple[Trigger, ...] = (
    *append_only("openings.SpecificationVersion"),
    *append_only("openings.WindowEntry"),
    *append_only(_RECORD),
    *append_only("openings.WindowPhoto"),
    Trigger("window_counted_first", _RECORD, "INSERT", _NEVER_COUNTED, "a window is counted, then accepted"),
    Trigger("window_as_scheduled", _RECORD, "INSERT", _NOT_SCHEDULED, "a window is accepted as scheduled"),
    Trigger("window_of_the_house", _RECORD, "INSERT", _OF_ANOTHER_HOUSE, "a window of another house"),
    Trigger("window_records_in_order", _RECORD, "INSERT", _NOT_NEXT, "a window's records follow one another"),
    Trigger("window_taken_back", _RECORD, "INSERT", _OF_ANOTHER_WINDOW, "a record of another window"),
)
