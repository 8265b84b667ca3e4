"""An opening without an accepted window is not ready: it is named, and no day plans it."""

from __future__ import annotations

import pytest

from crews import services
from crews.convert.kept import sheet_of_plan
from crews.selectors.days import day_inputs
from crews.selectors.month import houses_to_look_at
from crews.selectors.readiness import not_ready, windows_told
from tests.factories.crews import MONDAY, TUESDAY, crew_of, face_of, fine_day, house_with
from tests.openings.windows.building import accepted, came, damaged, widen

pytestmark = pytest.mark.django_db
ROWS = ("Front,101,36,60,24,36,", "Front,102,36,60,96,36,", "Front,103,36,60,168,36,")
NO_WINDOW = "Its window is not accepted."


@pytest.fixture
def red(company):
    fine_day(company)
    return crew_of(company)


@pytest.fixture
def house(company, foreman, red):
    house = house_with(company, *ROWS, accepted=False)
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house), day=MONDAY)
    return house


def planned(foreman, red, day=MONDAY):
    """Return the day's sheet, and the marks that it works and leaves out."""
    sheet = sheet_of_plan(services.plan_day(by=foreman, crew=red, day=day))
    return sheet, [visit.mark for visit in sheet.visits], {each.mark: each.why for each in sheet.left_over}


def test_a_day_leaves_out_what_has_no_accepted_window_and_says_so(foreman, red, house):
    came(foreman, house, "101", "102")
    accepted(foreman, house, "101")

    sheet, marks, left = planned(foreman, red)

    assert marks == ["101"]
    assert left == {"102": NO_WINDOW, "103": NO_WINDOW}
    assert "Front is not ready: 2 windows are not accepted: 102, 103." in sheet.notices


def test_a_sheet_is_stale_once_a_window_is_accepted(foreman, red, house):
    before = day_inputs(house.company, red, MONDAY).input_hash
    assert day_inputs(house.company, red, MONDAY).input_hash == before

    came(foreman, house, "101")
    assert day_inputs(house.company, red, MONDAY).input_hash == before  # it is here, but nobody has looked
    accepted(foreman, house, "101")

    assert day_inputs(house.company, red, MONDAY).input_hash != before


def test_a_window_that_is_damaged_after_its_acceptance_is_left_out(foreman, red, house):
    came(foreman, house, "101", "102")
    accepted(foreman, house, "101", "102")
    damaged(foreman, house, "102")

    _, marks, left = planned(foreman, red)

    assert marks == ["101"]
    assert left["102"] == NO_WINDOW


def test_an_accepted_window_of_a_size_that_changed_is_left_out(foreman, manager, red, house):
    came(foreman, house, "101", "102")
    accepted(foreman, house, "101", "102")
    widen(manager, house, "102", 40)

    _, marks, left = planned(foreman, red)

    assert marks == ["101"]
    assert left["102"] == NO_WINDOW


def test_what_an_earlier_day_has_set_stays_set_whatever_is_reported_later(foreman, red, house):
    came(foreman, house, "101", "102", "103")
    accepted(foreman, house, "101", "102", "103")
    _, marks, _ = planned(foreman, red)
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house), day=TUESDAY)
    fine_day(house.company, day=TUESDAY)
    damaged(foreman, house, "101")

    (face,) = day_inputs(house.company, red, TUESDAY).faces

    assert marks == ["101", "102", "103"]
    assert (face.planned, face.no_window) == (3, frozenset())


def test_a_day_without_any_accepted_window_is_a_sheet_that_says_why(foreman, red, house):
    sheet, marks, left = planned(foreman, red)

    assert marks == []
    assert set(left) == {"101", "102", "103"}
    assert "Front is not ready: 3 windows are not accepted: 101, 102, 103." in sheet.notices


def test_a_face_with_all_windows_accepted_is_ready(foreman, house):
    came(foreman, house, "101", "102", "103")
    accepted(foreman, house, "101", "102", "103")

    assert not_ready(face_of(house)) == ()


def test_many_marks_are_cut_off_where_a_line_ends():
    marks = [str(number) for number in range(101, 115)]

    # 12 of 14 are named
    assert windows_told(marks) == (
        "14 windows are not accepted: 101, 102, 103, 104, 105, 106, 107, 108, 109, 110, 111, 112, ...",
    )
    assert windows_told(["101"]) == ("1 window is not accepted: 101",)


def test_the_owner_reads_which_houses_wait_for_windows(company, foreman, house, time_machine):
    time_machine.move_to(f"{MONDAY} 16:00:00+00:00", tick=False)
    came(foreman, house, "101")
    accepted(foreman, house, "101")

    (look,) = houses_to_look_at(company)

    assert "RED goes to Front on Mon 8 Jun, but 2 windows are not accepted: 102, 103." in look.reasons
