"""Every write to crews, assignments, weather, rents, day plans, and of the work that is done."""

from crews.services.assigning import (
    Sent,
    Withdrawn,
    assign_crew,
    move_assignment,
    walk_earlier,
    withdraw_assignment,
)
from crews.services.crews import archive_crew, create_crew, edit_crew, restore_crew
from crews.services.forecasts import QUARTERS, QuarterEntry, set_forecast
from crews.services.members import add_member, edit_member, remove_member, restore_member, set_wage
from crews.services.planning import plan_day, renew_sheet, request_sheet
from crews.services.rentals import set_rental, set_rentals
from crews.services.working import mark_done, take_back_work

__all__ = [
    "QUARTERS",
    "QuarterEntry",
    "Sent",
    "Withdrawn",
    "add_member",
    "archive_crew",
    "assign_crew",
    "create_crew",
    "edit_crew",
    "edit_member",
    "mark_done",
    "move_assignment",
    "plan_day",
    "remove_member",
    "renew_sheet",
    "request_sheet",
    "restore_crew",
    "restore_member",
    "set_forecast",
    "set_rental",
    "set_rentals",
    "set_wage",
    "take_back_work",
    "walk_earlier",
    "withdraw_assignment",
]
