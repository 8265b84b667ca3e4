"""Who may see and do what: the one table, and the two questions asked of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from projects.actors import Actor
from projects.errors import NotAllowed, NotThere
from projects.models import Owned, Role


class Action(StrEnum):
    """What a person may want to see or do. Pages, services and buttons all ask by these names."""

    SEE_HOUSES = "see houses"
    EDIT_PROJECTS = "edit projects"
    EDIT_ELEVATIONS = "edit elevations"
    SEE_OPENINGS = "see openings"
    EDIT_OPENINGS = "edit openings"
    IMPORT_OPENINGS = "import openings"
    RECORD_WINDOWS = "record windows"
    EDIT_SPECIFICATION = "edit specification"
    JUDGE_PAIRS = "judge pairs"
    KEEP_INSTRUCTIONS = "keep instructions"
    SEE_ORDERS = "see orders"
    ISSUE_ORDERS = "issue orders"
    SEE_STOCK = "see stock"
    USE_STOCK = "use stock"
    RECEIVE_DELIVERIES = "receive deliveries"
    COUNT_STOCK = "count stock"
    SEE_PRICES = "see prices"
    EDIT_PRICES = "edit prices"
    SEE_PLAN = "see plan"
    EDIT_PLAN = "edit plan"
    SEE_SHEETS = "see sheets"
    RECORD_WORK = "record work"
    SEE_COSTS = "see costs"
    SEE_JOBS = "see jobs"
    SEE_AUDIT = "see audit"
    EDIT_PEOPLE = "edit people"
    EDIT_COMPANY = "edit company"


@dataclass(frozen=True, slots=True)
class Right:
    """One row of the table: who may, and how the sentence about it begins."""

    beginning: str
    roles: tuple[Role, ...]

    @property
    def sentence(self) -> str:
        """Return who may, as a sentence: `Costs are for the owner and the office.`"""
        names = [_CALLED[role] for role in self.roles]
        who = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
        return f"{self.beginning} for {who}."


_CALLED = {
    Role.OWNER: "the owner",
    Role.MANAGER: "the office",
    Role.FOREMAN: "the foreman",
    Role.CREW: "the crew",
}
_OWNER = (Role.OWNER,)
_OFFICE = (Role.OWNER, Role.MANAGER)
_LEAD = (Role.OWNER, Role.MANAGER, Role.FOREMAN)
_ALL = (Role.OWNER, Role.MANAGER, Role.FOREMAN, Role.CREW)

RIGHTS: dict[Action, Right] = {
    Action.SEE_HOUSES: Right("Projects and houses are", _LEAD),
    Action.EDIT_PROJECTS: Right("Changing projects and houses is", _OFFICE),
    Action.EDIT_ELEVATIONS: Right("Changing elevations is", _LEAD),
    Action.SEE_OPENINGS: Right("Openings and their drawings are", _ALL),
    Action.EDIT_OPENINGS: Right("Changing openings is", _OFFICE),
    Action.IMPORT_OPENINGS: Right("Importing a window schedule is", _OFFICE),
    Action.RECORD_WINDOWS: Right("Counting and accepting windows is", _LEAD),
    Action.EDIT_SPECIFICATION: Right("Changing the specification is", _OFFICE),
    Action.JUDGE_PAIRS: Right("Saying what is used together is", _OFFICE),
    Action.KEEP_INSTRUCTIONS: Right("Keeping instruction sheets is", _OFFICE),
    Action.SEE_ORDERS: Right("Orders are", _OFFICE),
    Action.ISSUE_ORDERS: Right("Ordering is", _OFFICE),
    Action.SEE_STOCK: Right("Stock is", _ALL),
    Action.USE_STOCK: Right("Taking from stock is", _LEAD),
    Action.RECEIVE_DELIVERIES: Right("Receiving deliveries is", _LEAD),
    Action.COUNT_STOCK: Right("Counting stock is", _OFFICE),
    Action.SEE_PRICES: Right("Prices are", _OFFICE),
    Action.EDIT_PRICES: Right("Changing prices is", _OFFICE),
    Action.SEE_PLAN: Right("The week's plan is", _LEAD),
    Action.EDIT_PLAN: Right("Planning crews is", _LEAD),
    Action.SEE_SHEETS: Right("Crew sheets are", _ALL),
    Action.RECORD_WORK: Right("Recording work is", _ALL),
    Action.SEE_COSTS: Right("Costs are", _OFFICE),
    Action.SEE_JOBS: Right("Documents that others asked for are", _OFFICE),
    Action.SEE_AUDIT: Right("The record of changes is", _OWNER),
    Action.EDIT_PEOPLE: Right("People and their roles are", _OWNER),
    Action.EDIT_COMPANY: Right("The company's own settings are", _OWNER),
}


def may(by: Actor, action: Action) -> bool:
    """Return whether the actor's role includes the action."""
    return by.active and by.role in RIGHTS[action].roles


def require(by: Actor, action: Action, *rows: Owned) -> None:
    """Pass where the actor may do `action` to `rows`.

    Raises NotThere first where a row is another company's, so that a refusal never says that it exists;
    then NotAllowed, with the sentence who may.
    """
    if any(row.company_id != by.company.pk for row in rows):
        raise NotThere
    if not may(by, action):
        raise NotAllowed(whose=RIGHTS[action].sentence)
