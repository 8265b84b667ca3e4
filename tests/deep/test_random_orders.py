"""R40 in full: 500 random orders, and those that change one, on both databases."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.materials.orders.random_orders import agree_in_every_form, drawn

pytestmark = pytest.mark.django_db


@settings(
    max_examples=500,
    deadline=None,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)
@given(order=drawn(), changed=st.none() | drawn())
def test_five_hundred_random_orders_are_valid_and_say_the_same_money(manager, client_of, order, changed):
    agree_in_every_form(order, changed, manager, client_of(manager))
