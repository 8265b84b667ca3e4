"""Where a window stands is the fold of what happened to it."""

from __future__ import annotations

import datetime as dt
import random

import pytest

from openings.windows.standing import Happened, Kind, Standing, State, fold, may_follow, still_held
from tests.openings.windows.building import inches

AS_SCHEDULED, NARROW = inches(36, 60), inches(30, 60)
FRIDAY, SUNDAY = dt.date(2026, 6, 12), dt.date(2026, 6, 14)
TOLD = {
    "c": (Kind.COUNTED, AS_SCHEDULED, None),
    "n": (Kind.COUNTED, NARROW, None),
    "a": (Kind.ACCEPTED, AS_SCHEDULED, None),
    "d": (Kind.DAMAGED, None, FRIDAY),
    "D": (Kind.DAMAGED, None, SUNDAY),
    "s": (Kind.SENT_BACK, None, None),
}


def happened(told):
    """Return records by letters; a digit takes the record of that number back."""
    found = []
    for number, sign in enumerate(told, 1):
        if sign.isdigit():
            found.append(Happened(number, Kind.TAKEN_BACK, takes_back=int(sign)))
        else:
            kind, size, claim_by = TOLD[sign]
            found.append(Happened(number, kind, size, claim_by))
    return found


@pytest.mark.parametrize(
    ("told", "state"),
    [
        ("", "not here yet"),
        ("c", "here"),
        ("n", "another size"),
        ("nc", "here"),
        ("ca", "accepted"),
        ("cd", "damaged"),
        ("cad", "damaged"),
        ("cda", "accepted"),
        ("cds", "not here yet"),
        ("cdsc", "here"),
        ("cdsca", "accepted"),
        ("c1", "not here yet"),
        ("ca2", "here"),
        ("ca21", "not here yet"),
        ("cd2", "here"),
        ("cds3", "damaged"),
        ("ca2a", "accepted"),
    ],
)
def test_the_last_record_that_holds_says_where_a_window_stands(told, state):
    assert fold(happened(told), AS_SCHEDULED).state == state


def test_a_damaged_window_is_claimed_by_the_first_day_that_was_given():
    assert fold(happened("cDd"), AS_SCHEDULED).claim_by == FRIDAY
    assert fold(happened("cdD"), AS_SCHEDULED).claim_by == FRIDAY
    # the report of Friday is taken back, that of Sunday stays
    assert fold(happened("cdD2"), AS_SCHEDULED).claim_by == SUNDAY


def test_the_next_window_does_not_inherit_the_claim_of_the_one_sent_back():
    assert fold(happened("cdscD"), AS_SCHEDULED).claim_by == SUNDAY


def test_an_acceptance_holds_for_its_own_size():
    assert fold(happened("ca"), NARROW) == Standing(State.ANEW, AS_SCHEDULED)
    # and again, should the schedule turn back
    assert fold(happened("ca"), AS_SCHEDULED).state is State.ACCEPTED


def test_a_count_holds_for_its_own_size():
    assert fold(happened("c"), NARROW).state is State.OTHER_SIZE
    assert fold(happened("n"), NARROW).state is State.HERE


def test_what_was_sent_back_is_said_until_the_next_one_comes():
    assert fold(happened("cs"), AS_SCHEDULED).was_sent_back
    assert not fold(happened("csc"), AS_SCHEDULED).was_sent_back


# what may follow, written down by hand: c counted as scheduled, n with another label, a, d, s
ALLOWED = {
    "": "cn",
    "c": "nads",
    "n": "cds",
    "ca": "ds",
    "cd": "ads",
    "nd": "ds",
    "cds": "cn",
}


@pytest.mark.parametrize("told", ALLOWED)
def test_only_what_makes_sense_at_the_truck_may_follow(told):
    stands = fold(happened(told), AS_SCHEDULED)

    allowed = {sign for sign in "cnads" if may_follow(stands, TOLD[sign][0], TOLD[sign][1], AS_SCHEDULED)}

    assert allowed == set(ALLOWED[told])


def test_after_the_schedule_changed_an_accepted_window_is_counted_or_sent_back():
    stands = fold(happened("ca"), NARROW)

    allowed = {sign for sign in "cnads" if may_follow(stands, TOLD[sign][0], TOLD[sign][1], NARROW)}

    assert allowed == set("nds")


def test_taking_the_last_record_back_is_as_if_it_had_never_been():
    lot = random.Random(7)
    for _ in range(500):
        told: list[str] = []
        for _ in range(lot.randrange(1, 8)):
            stands = fold(happened(told), AS_SCHEDULED)
            told.append(
                lot.choice([s for s in "cnads" if may_follow(stands, TOLD[s][0], TOLD[s][1], AS_SCHEDULED)])
            )
        without = fold(happened(told[:-1]), AS_SCHEDULED)

        assert fold(happened([*told, str(len(told))]), AS_SCHEDULED) == without
        assert len(still_held(happened([*told, str(len(told))]))) == len(told) - 1
