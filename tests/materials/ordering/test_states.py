"""How one state of an order follows another."""

from __future__ import annotations

import pytest

from materials.ordering.states import DRAFT, FOLLOWS, first_wrong, may_follow

STATES = (DRAFT, *FOLLOWS)
# draft > issued > acknowledged > part delivered > closed or cancelled; a supplier may leave some out.
# Before anything came, another order may take its place.
ALLOWED = {
    ("draft", "issued"),
    ("issued", "acknowledged"),
    ("issued", "part delivered"),
    ("issued", "closed"),
    ("issued", "cancelled"),
    ("acknowledged", "part delivered"),
    ("acknowledged", "closed"),
    ("acknowledged", "cancelled"),
    ("part delivered", "closed"),
    ("part delivered", "cancelled"),
    ("issued", "changed"),
    ("acknowledged", "changed"),
}


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("event", STATES)
def test_only_the_listed_moves_are_allowed(state, event):
    assert may_follow(state, event) == ((state, event) in ALLOWED)


def test_first_event_out_of_turn_is_named():
    assert first_wrong([]) is None
    assert first_wrong(["issued", "acknowledged", "closed"]) is None
    assert first_wrong(["acknowledged"]) == "acknowledged"
    assert first_wrong(["issued", "closed", "cancelled"]) == "cancelled"
    assert first_wrong(["issued", "issued"]) == "issued"
