"""Windows as they come: all or nothing, once per form, nothing erased, each step after the one it needs."""

from __future__ import annotations

import datetime as dt

import pytest

from openings import services
from openings.errors import NotLast, OtherWindows, WindowGone, WindowNotSo
from openings.models import WindowEntry, WindowRecord
from openings.services import SentPhoto
from projects.errors import Archived, BadValue, NotAllowed, NotThere
from projects.messages import words
from projects.models import AuditEntry
from projects.services import archive_house, edit_company
from tests.factories.crews import house_with
from tests.openings.windows.building import (
    accepted,
    came,
    damaged,
    inches,
    key,
    opening,
    sent_back,
    standing,
    states,
    widen,
)

pytestmark = pytest.mark.django_db
AWAITED = "not here yet"


def test_a_truck_is_counted_in_one_go(foreman, house):
    came(foreman, house, "101", "102", "202")

    assert states(house) == {"101": "here", "102": "here", "103": AWAITED, "201": AWAITED, "202": "here"}
    (entry,) = WindowEntry.objects.all()
    assert (entry.by, entry.house) == (foreman.user, house)
    assert sorted(entry.records.values_list("width_nm", flat=True)) == [609_600_000, 914_400_000, 914_400_000]
    assert AuditEntry.objects.get(action="count windows").after["marks"] == ["101", "102", "202"]


def test_one_that_is_here_already_stops_the_whole_count(foreman, house):
    came(foreman, house, "102")

    with pytest.raises(WindowNotSo) as refusal:
        came(foreman, house, "101", "102", "103")

    assert words(refusal.value) == (
        "Window 102 is here, so it can't be counted. Look at the list, then try again."
    )
    assert states(house)["101"] == states(house)["103"] == AWAITED
    assert WindowRecord.objects.count() == 1


def test_a_form_sent_twice_counts_once(foreman, house):
    form = key()

    first = came(foreman, house, "101", "102", form=form)
    second = came(foreman, house, "101", "102", form=form)

    assert first == second
    assert WindowRecord.objects.count() == 2


def test_the_same_form_with_other_windows_is_refused(foreman, house):
    form = key()
    came(foreman, house, "101", form=form)

    with pytest.raises(OtherWindows):
        came(foreman, house, "102", form=form)
    with pytest.raises(OtherWindows):
        accepted(foreman, house, "101", form=form)

    assert states(house)["102"] == AWAITED


def test_another_size_than_scheduled_is_said_and_not_accepted(foreman, house):
    came(foreman, house, "101", size=inches(30, 60))

    with pytest.raises(WindowNotSo) as refusal:
        accepted(foreman, house, "101")

    assert "Window 101 is another size, so it can't be accepted." in words(refusal.value)
    assert states(house)["101"] == "another size"


def test_a_label_that_was_misread_is_read_again(foreman, house):
    came(foreman, house, "101", size=inches(30, 60))

    came(foreman, house, "101")
    accepted(foreman, house, "101")

    assert states(house)["101"] == "accepted"


def test_nobody_accepts_what_is_not_here(foreman, house):
    came(foreman, house, "101")

    with pytest.raises(WindowNotSo):
        accepted(foreman, house, "101", "102")

    assert states(house)["101"] == "here"


def test_nothing_ticked_is_said(foreman, house):
    for act in (came, accepted):
        with pytest.raises(BadValue, match="No window is ticked"):
            act(foreman, house)

    assert not WindowEntry.objects.exists()


def test_damage_is_claimed_within_the_company_s_days(foreman, house, time_machine):
    # 02:00 UTC on Tuesday is still Monday 8 June at the company, in New York
    time_machine.move_to(dt.datetime(2026, 6, 9, 2, tzinfo=dt.UTC), tick=False)
    came(foreman, house, "101")

    damaged(foreman, house, "101")

    # 3 days after Monday 8 June (common practice, no source)
    assert standing(house, "101").claim_by == dt.date(2026, 6, 11)


def test_the_company_sets_its_days_to_claim(owner, foreman, house, time_machine):
    time_machine.move_to(dt.datetime(2026, 6, 8, 16, tzinfo=dt.UTC), tick=False)
    edit_company(by=owner, version=1, name="Harrow", time_zone="UTC", sheets_hour=18, claim_days=7)
    foreman.company.refresh_from_db()
    came(foreman, house, "101")

    damaged(foreman, house, "101")

    assert standing(house, "101").claim_by == dt.date(2026, 6, 15)


@pytest.mark.parametrize("days", [-1, 61])
def test_days_to_claim_have_bounds(owner, days):
    with pytest.raises(BadValue):
        edit_company(by=owner, version=1, name="Harrow", time_zone="UTC", sheets_hour=18, claim_days=days)


def test_damage_says_what_is_damaged(foreman, house):
    came(foreman, house, "101")

    with pytest.raises(BadValue):
        damaged(foreman, house, "101", what=" ")

    assert states(house)["101"] == "here"


def test_five_photos_are_too_many(foreman, house):
    came(foreman, house, "101")

    with pytest.raises(BadValue, match="5 photos are too many"):
        damaged(foreman, house, "101", photos=[SentPhoto("a.jpg", b"")] * 5)


def test_a_replaced_window_is_counted_and_accepted_anew(foreman, house):
    came(foreman, house, "101")
    damaged(foreman, house, "101")
    sent_back(foreman, house, "101")
    assert states(house)["101"] == AWAITED

    came(foreman, house, "101")
    accepted(foreman, house, "101")

    assert states(house)["101"] == "accepted"
    kinds = WindowRecord.objects.filter(opening__mark="101").order_by("number").values_list("kind", flat=True)
    assert list(kinds) == ["counted", "damaged", "sent back", "counted", "accepted"]


def test_a_schedule_that_changed_after_acceptance_asks_for_a_new_count(foreman, manager, house):
    came(foreman, house, "101", "102")
    accepted(foreman, house, "101", "102")

    widen(manager, house, "101", 42)

    assert (states(house)["101"], states(house)["102"]) == ("to be counted anew", "accepted")
    came(foreman, house, "101")
    accepted(foreman, house, "101")
    assert states(house)["101"] == "accepted"


def test_a_tick_carries_the_size_that_was_read(foreman, manager, house):
    """The office changes the schedule between the page and the button: the label was read before."""
    row = opening(house, "101")
    widen(manager, house, "101", 42)

    services.count_windows(by=foreman, house=house, sizes={row.pk: inches(36, 60)}, key=key())

    assert states(house)["101"] == "another size"


def test_taking_back_follows_and_erases_nothing(foreman, house):
    came(foreman, house, "101", "102")
    entry = accepted(foreman, house, "101", "102")

    services.take_back(by=foreman, entry=entry)

    assert (states(house)["101"], states(house)["102"]) == ("here", "here")
    assert WindowRecord.objects.count() == 6
    accepted(foreman, house, "101")
    assert states(house)["101"] == "accepted"


def test_taking_back_twice_happens_once(foreman, house):
    entry = came(foreman, house, "101")

    first = services.take_back(by=foreman, entry=entry)
    again = services.take_back(by=foreman, entry=entry)

    assert first == again
    assert WindowRecord.objects.count() == 2
    with pytest.raises(NotThere):
        services.take_back(by=foreman, entry=first)


def test_a_count_is_not_taken_back_under_an_acceptance(foreman, house):
    entry = came(foreman, house, "101", "102")
    accepted(foreman, house, "102")

    with pytest.raises(NotLast) as refusal:
        services.take_back(by=foreman, entry=entry)

    assert words(refusal.value) == "More was written down about 102 since. Take that back first."
    assert states(house)["101"] == "here"


def test_an_opening_that_left_the_schedule_is_not_counted(foreman, manager, house):
    gone = opening(house, "101")
    services.remove_opening(by=manager, opening=gone)

    with pytest.raises(WindowGone):
        services.count_windows(
            by=foreman,
            house=house,
            sizes={gone.pk: inches(36, 60), opening(house, "102").pk: inches(36, 60)},
            key=key(),
        )

    assert not WindowRecord.objects.exists()


def test_a_window_of_another_house_is_not_counted_here(foreman, house):
    other = opening(house_with(house.company, accepted=False), "W1")

    with pytest.raises(WindowGone):
        services.count_windows(by=foreman, house=house, sizes={other.pk: inches(36, 60)}, key=key())


def test_an_archived_house_takes_no_window(foreman, manager, house):
    archive_house(by=manager, house=house)

    with pytest.raises(Archived):
        came(foreman, house, "101")


def test_windows_are_for_the_foreman_and_the_office(hand, stranger, house):
    with pytest.raises(NotAllowed, match="whose"):
        came(hand, house, "101")
    with pytest.raises(NotThere):
        came(stranger, house, "101")

    assert not WindowEntry.objects.exists()


def test_a_copied_house_has_no_window_yet(manager, foreman, house):
    came(foreman, house, "101")
    accepted(foreman, house, "101")

    copy = services.copy_house(by=manager, house=house, code="COPY", name="Lot 9")

    assert set(states(copy).values()) == {AWAITED}
