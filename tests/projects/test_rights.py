"""The one table of rights, and the two questions asked of it."""

from __future__ import annotations

import pytest

from projects.actors import CommandLine
from projects.errors import NotAllowed, NotThere
from projects.models import Role
from projects.rights import RIGHTS, Action, may, require
from tests.factories.houses import ProjectFactory

pytestmark = pytest.mark.django_db


def test_every_action_stands_in_the_table():
    assert set(RIGHTS) == set(Action)


def test_the_owner_may_do_everything():
    assert all(Role.OWNER in right.roles for right in RIGHTS.values())


def test_the_crew_sees_openings_sheets_and_stock_and_records_work():
    theirs = {action for action, right in RIGHTS.items() if Role.CREW in right.roles}

    assert theirs == {
        Action.SEE_OPENINGS,
        Action.SEE_SHEETS,
        Action.SEE_STOCK,
        Action.RECORD_WORK,
    }


@pytest.mark.parametrize(
    "action", [Action.SEE_COSTS, Action.SEE_PRICES, Action.SEE_ORDERS, Action.ISSUE_ORDERS]
)
def test_money_is_for_the_owner_and_the_office(action):
    assert set(RIGHTS[action].roles) == {Role.OWNER, Role.MANAGER}


def test_a_refusal_says_who_may(hand):
    with pytest.raises(NotAllowed) as refusal:
        require(hand, Action.SEE_COSTS)

    assert refusal.value.parameters["whose"] == "Costs are for the owner and the office."


def test_another_companys_row_is_not_there_even_without_the_right(hand):
    with pytest.raises(NotThere):
        require(hand, Action.EDIT_PROJECTS, ProjectFactory())


def test_an_ended_membership_may_nothing(manager):
    manager.active = False

    assert not any(may(manager, action) for action in Action)


def test_the_command_line_may_what_an_owner_may(company):
    assert all(may(CommandLine(company), action) for action in Action)
