"""Along the wall, face by face."""

from __future__ import annotations

from dataclasses import replace

from crews.dayplan.crew_day.walk import in_walking_order
from projects.quantities.length import Length
from tests.crews.dayplan.crew_day.days import facts


def test_openings_come_from_left_to_right():
    left, right = facts("W9", offset=Length.inches(20)), facts("W1", offset=Length.inches(200))

    assert in_walking_order([right, left]) == (left, right)


def test_faces_keep_the_order_in_which_they_appear():
    front, back = facts("W1"), replace(facts("W2"), elevation="Back")
    other_house = replace(facts("W3"), house="Lot 8")

    assert in_walking_order([back, other_house, front]) == (back, other_house, front)
    assert in_walking_order([back, front, replace(back, mark="W0")])[:2] == (replace(back, mark="W0"), back)


def test_openings_nobody_measured_come_last_by_their_numbers():
    measured = facts("W11", offset=Length.inches(900))

    found = in_walking_order([facts("W10"), facts("W2"), facts("A"), measured])

    assert [each.mark for each in found] == ["W11", "A", "W2", "W10"]
