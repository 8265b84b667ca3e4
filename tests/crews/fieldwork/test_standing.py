"""Which steps are done is the fold of the records: worked by hand, the same in whatever order they come."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from crews.fieldwork.standing import Marked, missing_before, resting_on, standing

# a pan lies over the sill strip, the unit over the pan, the screws follow the unit
ORDER = (("sill", "pan"), ("pan", "set"), ("set", "screws"))


def test_a_step_is_done_until_each_record_of_it_is_taken_back():
    two_phones = [Marked(1, "pan"), Marked(2, "pan"), Marked(3, "pan", takes_back=1)]

    assert standing(two_phones[:1]) == {"pan": (1,)}
    assert standing(two_phones[:2]) == {"pan": (1, 2)}
    assert standing(two_phones) == {"pan": (2,)}
    assert standing([*two_phones, Marked(4, "pan", takes_back=2)]) == {}


@st.composite
def histories(draw):
    records = []
    for number in range(1, draw(st.integers(1, 12)) + 1):
        before = [each for each in records if each.takes_back is None]
        undone = {each.takes_back for each in records}
        free = [each for each in before if each.number not in undone]
        if free and draw(st.booleans()):
            gone = draw(st.sampled_from(free))
            records.append(Marked(number, gone.step, takes_back=gone.number))
        else:
            records.append(Marked(number, draw(st.sampled_from(("sill", "pan", "set")))))
    return records


@given(histories(), st.randoms(use_true_random=False))
def test_neither_order_of_arrival_nor_doubles_change_the_state(records: list[Marked], dice: random.Random):
    shuffled = [*records, *records]
    dice.shuffle(shuffled)

    assert standing(shuffled) == standing(records)


def test_what_must_come_before_is_named_with_what_it_waits_for_itself():
    assert missing_before(["screws"], {"sill"}, ORDER) == (("set", "screws"), ("pan", "set"))
    assert missing_before(["screws"], {"sill", "pan", "set"}, ORDER) == ()
    assert missing_before(["sill"], set(), ORDER) == ()


def test_steps_marked_in_one_go_wait_for_one_another():
    assert missing_before(["set", "pan"], {"sill"}, ORDER) == ()


def test_what_others_rest_on_is_not_taken_back_before_them():
    assert resting_on({"pan"}, {"sill", "pan", "set", "screws"}, ORDER) == ("set",)
    assert resting_on({"set", "screws"}, {"sill", "pan", "set", "screws"}, ORDER) == ()
    assert resting_on({"pan"}, {"sill", "pan"}, ORDER) == ()
