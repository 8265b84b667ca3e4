"""What was ticked per elevation before windows were recorded one by one stays accepted; on both databases."""

from __future__ import annotations

import pytest
from django.core.management import call_command
from django.db import connection

from projects import triggers
from tests.factories.crews import house_with
from tests.openings.windows.building import states


@pytest.mark.django_db(transaction=True)
def test_windows_of_a_ticked_elevation_are_accepted_and_of_another_not(company):
    rows = ("Front,101,36,60,,,", "Front,102,36,60,,,", "Rear,201,36,60,,,")
    house = house_with(company, *rows, accepted=False)
    try:
        call_command("migrate", "openings", "0001", verbosity=0)
        with connection.cursor() as cursor:
            cursor.execute("UPDATE projects_elevation SET windows_accepted = (name = 'Front')")
    finally:
        call_command("migrate", verbosity=0)

    assert states(house) == {"101": "accepted", "102": "accepted", "201": "not here yet"}
    assert set(triggers.installed()) == {trigger.full_name for trigger in triggers.wanted()}
