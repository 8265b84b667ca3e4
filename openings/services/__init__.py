"""Every write to specifications, openings, imported schedules and the records of windows."""

from openings.services.copying import copy_house
from openings.services.editing import create_opening, edit_opening, remove_opening, restore_opening
from openings.services.schedule import confirm_import, match_import, put_away_import, start_import
from openings.services.specification import set_specification
from openings.services.windows import (
    SentPhoto,
    accept_windows,
    count_windows,
    report_damage,
    send_window_back,
    take_back,
)

__all__ = [
    "SentPhoto",
    "accept_windows",
    "confirm_import",
    "copy_house",
    "count_windows",
    "create_opening",
    "edit_opening",
    "match_import",
    "put_away_import",
    "remove_opening",
    "report_damage",
    "restore_opening",
    "send_window_back",
    "set_specification",
    "start_import",
    "take_back",
]
