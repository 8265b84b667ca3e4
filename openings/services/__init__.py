"""Every write to specifications, openings and imported schedules."""

from openings.services.copying import copy_house
from openings.services.editing import create_opening, edit_opening, remove_opening, restore_opening
from openings.services.schedule import confirm_import, match_import, put_away_import, start_import
from openings.services.specification import set_specification

__all__ = [
    "confirm_import",
    "copy_house",
    "create_opening",
    "edit_opening",
    "match_import",
    "put_away_import",
    "remove_opening",
    "restore_opening",
    "set_specification",
    "start_import",
]
