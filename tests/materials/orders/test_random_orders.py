"""R40, in short: 20 random orders are valid and say the same money in every form. 500 are in `tests/deep`."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from materials.documents import order_file
from materials.selectors.orders import order_of
from tests.materials.exchange.test_change import problems_of
from tests.materials.orders.random_orders import agree_in_every_form, drawn, in_csv, in_xml

pytestmark = pytest.mark.django_db


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


@settings(
    max_examples=20,
    deadline=None,
    derandomize=True,
    phases=[Phase.generate],  # each try draws papers: making a failure smaller would take minutes
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(order=drawn(), changed=st.none() | drawn())
def test_a_random_order_is_valid_and_says_the_same_money_in_every_form(manager, office, order, changed):
    agree_in_every_form(order, changed, manager, office)


def test_negative_control_a_document_without_its_number_or_a_cent_off_is_seen(site):
    shown = order_of(site.by.company, site.issued().pk)
    content, table = order_file(shown, "xml").content, order_file(shown, "csv").content
    number = content.index(b"  <cbc:ID>")
    without = content[:number] + content[content.index(b"\n", number) + 1 :]
    a_cent_off = content.replace(b">189.90</cbc:PayableAmount>", b">189.91</cbc:PayableAmount>")

    assert problems_of(content, "Order") == []
    assert problems_of(without, "Order") != []
    assert in_xml(content) == in_csv(table)
    assert in_xml(a_cent_off) != in_csv(table)
