"""The demo's windows: accepted wherever a crew is sent, one damaged, a late house not counted."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta

import pytest

from crews.models import Assignment
from crews.selectors.readiness import marks_without_window
from openings.models import WindowPhoto
from openings.selectors.windows import damaged_windows
from projects.models import House
from projects.selectors import local_today
from tests.config.loaded import company, loaded
from tests.factories.openings import windows_of

__all__ = ["loaded"]
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("loaded")]


def states(code):
    house = House.objects.of(company()).get(code=code)
    return Counter(each.standing.state.value for each in windows_of(house))


def test_every_elevation_that_a_crew_is_sent_to_has_all_its_windows():
    sent = Assignment.objects.of(company()).select_related("elevation")

    assert not any(marks_without_window(company(), [row.elevation for row in sent]).values())


def test_windows_of_later_houses_are_on_their_way():
    # PM-14's rear has J to P but I and O: six windows, counted and not inspected
    assert states("PM-14") == {"accepted": 10, "here": 6}
    assert states("TR-3") == {"not here yet": 16}
    assert states("WL-4") == {"accepted": 11, "damaged": 1}


def test_one_window_is_damaged_with_its_photo_and_a_day_to_claim():
    (damaged,) = damaged_windows(company())

    assert damaged.shown.opening.house.code == "WL-4"
    assert not damaged.is_past
    # the company's 3 days from the day on which it was loaded
    assert damaged.shown.standing.claim_by - local_today(company()) in {timedelta(days=3), timedelta(days=2)}
    photo = WindowPhoto.objects.of(company()).get()
    assert (photo.width_px, photo.height_px) == (1200, 900)
    assert photo.record in damaged.reports
