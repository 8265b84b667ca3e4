"""Every write to the tables of this app."""

from projects.services.companies import edit_company, found_company
from projects.services.devices import end_device, open_again, remember_device, see_device
from projects.services.elevations import (
    READINESS,
    edit_elevation,
    place_elevations,
    remove_elevation,
    tick_readiness,
    walk_in_order,
)
from projects.services.header_matches import remember_headers
from projects.services.houses import archive_house, copy_house_shell, create_house, edit_house, restore_house
from projects.services.numbers import next_number
from projects.services.people import (
    change_role,
    choose_password,
    end_membership,
    end_sessions,
    hand_out_link,
    invite_person,
    restore_membership,
)
from projects.services.projects import archive_project, create_project, edit_project, restore_project
from projects.services.removal import remove_company
from projects.services.writing import change, created, hold, record, unless_taken

__all__ = [
    "READINESS",
    "archive_house",
    "archive_project",
    "change",
    "change_role",
    "choose_password",
    "copy_house_shell",
    "create_house",
    "create_project",
    "created",
    "edit_company",
    "edit_elevation",
    "edit_house",
    "edit_project",
    "end_device",
    "end_membership",
    "end_sessions",
    "found_company",
    "hand_out_link",
    "hold",
    "invite_person",
    "next_number",
    "open_again",
    "place_elevations",
    "record",
    "remember_device",
    "remember_headers",
    "remove_company",
    "remove_elevation",
    "restore_house",
    "restore_membership",
    "restore_project",
    "see_device",
    "tick_readiness",
    "unless_taken",
    "walk_in_order",
]
