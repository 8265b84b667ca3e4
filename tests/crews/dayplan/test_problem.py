"""Parts that contradict themselves are refused where the problem is built."""

from __future__ import annotations

import pytest

from crews.dayplan.problem import DayProblem, Resource, Task, Window, find_contradictions
from projects.errors import BadValue
from tests.crews.dayplan.cases import after, problem, task

PEOPLE = (Resource("people", 2),)


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        (((*PEOPLE, *PEOPLE), ()), "'people' is given 2 times"),
        ((PEOPLE, (task("a", 1), task("a", 2))), "'a' is given 2 times"),
        (((Resource("people", -1),), ()), "is below 0"),
        ((PEOPLE, (Task("a", -1),)), "takes less than no time"),
        ((PEOPLE, (Task("a", 1, (("ladder", 1),)),)), "'ladder', which is no resource"),
        ((PEOPLE, (Task("a", 1, (("people", -1),)),)), "less than none of 'people'"),
        ((PEOPLE, (Task("a", 1, (("people", 1), ("people", 1))),)), "is given 2 times"),
        ((PEOPLE, (Task("a", 1, (), (Window(5, 4),)),)), "ends before it starts"),
        ((PEOPLE, (task("a", 1),), (after("a", "b"),)), "names 'b', which is no task"),
    ],
)
def test_contradiction_is_refused(parts, told):
    with pytest.raises(BadValue, match=told):
        DayProblem(*parts)


def test_every_contradiction_is_found():
    found = find_contradictions(PEOPLE, (Task("a", -1), Task("b", -1)), lags=(after("x", "y"),))

    assert len(found) == 4


def test_use_above_what_there_is_is_well_formed():
    assert problem(task("a", 1, 3)).tasks[0].uses == (("people", 3),)
