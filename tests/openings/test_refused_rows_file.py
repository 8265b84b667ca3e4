"""R16: the refused rows, given back as a file, hold no formula in any column."""

from __future__ import annotations

import csv
import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from openings.models import Opening
from tests.factories.houses import HouseFactory
from tests.projects.test_exports import PAYLOADS, cells_of, runs

pytestmark = pytest.mark.django_db
COLUMNS = ("elevation", "mark", "unit_width", "unit_height", "fin", "flags", "note", "glass", "their own")


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def refused_rows(office, house, rows):
    """Return the file of refused rows after sending a schedule with these rows."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    file = SimpleUploadedFile("lot.csv", out.getvalue().encode())
    sent = office.post(f"/houses/{house.pk}/schedule/", {"schedule": file})
    answer = office.get(f"{sent['Location']}refused-rows.csv")
    assert answer.status_code == 200
    return answer.content.decode("utf-8-sig")


@pytest.mark.parametrize("column", COLUMNS)
def test_no_payload_runs_from_any_column(office, manager, column):
    house = HouseFactory(project__company=manager.company)
    rows = []
    for number, payload in enumerate(PAYLOADS):
        cells = dict.fromkeys(COLUMNS, "") | {
            "mark": f"W{number}",
            "unit_width": "no size",
            "unit_height": "60",
        }
        rows.append(list((cells | {column: payload}).values()))

    text = refused_rows(office, house, [COLUMNS, *rows])

    assert [cell for cell in cells_of(text) if runs(cell)] == []
    assert len(list(csv.reader(io.StringIO(text, newline="")))) >= len(PAYLOADS)
    assert not Opening.objects.of(manager.company).exists()


@pytest.mark.parametrize("payload", PAYLOADS, ids=ascii)
def test_no_payload_runs_from_a_header_of_the_builders(office, manager, payload):
    house = HouseFactory(project__company=manager.company)

    text = refused_rows(
        office, house, [["mark", "unit_width", "unit_height", payload], ["W1", "no size", "60", "x"]]
    )

    assert [cell for cell in cells_of(text) if runs(cell)] == []


def test_sizes_and_numbers_come_back_as_they_were(office, manager):
    house = HouseFactory(project__company=manager.company)
    row = ["W1", "3'-0 1/2\"", "-60", "2x3mm", "36 x 60"]

    text = refused_rows(office, house, [["mark", "unit_width", "unit_height", "glass", "their own"], row])

    header, back = list(csv.reader(io.StringIO(text)))
    assert header[:-1] == ["mark", "unit_width", "unit_height", "glass", "their own"]
    assert back[:-1] == row
    assert "60" in back[-1]
