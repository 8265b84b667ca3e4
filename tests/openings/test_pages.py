"""The pages of houses, openings, schedules and specifications."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from openings import services
from openings.models import Opening, ScheduleImport, SpecificationVersion
from projects.models import HeaderMatch
from tests.factories.houses import HouseFactory

SCHEDULE = b"""elevation,mark,unit_width,unit_height,count,offset,sill_height
Front,W1,36,60,1,24,36
Front,W2,24,36,1,120,36
Rear,W3,48,48,2,,
"""


@pytest.fixture
def house(company):
    return HouseFactory(project__company=company)


@pytest.fixture
def full_house(house, manager):
    schedule = services.start_import(by=manager, house=house, file_name="lot.csv", content=SCHEDULE)
    services.confirm_import(by=manager, schedule_import=schedule)
    return house


@pytest.fixture
def signed_in(client, manager):
    client.force_login(manager.user)
    return client


def address(name, row):
    return reverse(name, args=[row.pk])


def test_a_house_without_openings_offers_the_import_first(signed_in, house):
    page = signed_in.get(address("house", house))

    assert page.status_code == 200
    assert "Import window schedule" in page.content.decode()


def test_a_house_shows_each_opening_in_drawing_and_list(signed_in, full_house):
    page = signed_in.get(address("house", full_house)).content.decode()

    assert page.count('<svg class="drawing"') == 1
    for mark in ("W1", "W2", "W301", "W302"):
        assert page.count(mark) >= 2


@pytest.mark.parametrize("rows", [1, 40])
def test_a_house_page_takes_the_same_queries_at_any_size(
    signed_in, house, manager, django_assert_max_num_queries, rows
):
    lines = [f"Front,W{number},36,60" for number in range(rows)]
    content = "\n".join(["elevation,mark,unit_width,unit_height", *lines]).encode()
    schedule = services.start_import(by=manager, house=house, file_name="lot.csv", content=content)
    services.confirm_import(by=manager, schedule_import=schedule)

    with django_assert_max_num_queries(15):
        signed_in.get(address("house", house))


def test_an_opening_opens_each_number_to_its_reason(signed_in, full_house):
    row = Opening.objects.get(mark="W1")

    page = signed_in.get(address("opening", row)).content.decode()

    # W1's sill strip on a 36 1/2 in RO with 9 in jamb strips: 36.5 + 2 x 9 = 54.5
    assert "sill strip" in page
    assert "RO width + 2 x (jamb strip width - jamb wrap)" in page
    assert "AAMA 2400-10, 5.7.3.2 and Note 3" in page


def test_a_changed_width_changes_the_takeoff(signed_in, full_house):
    row = Opening.objects.get(mark="W1")
    before = signed_in.get(address("opening", row)).content.decode()
    form = signed_in.get(address("opening-edit", row)).context["form"]
    entry = {name: form.get_initial_for_field(field, name) or "" for name, field in form.fields.items()}

    answer = signed_in.post(address("opening-edit", row), {**entry, "unit_width": "40", "ro_width": ""})

    assert answer.status_code == 302
    after = signed_in.get(address("opening", row)).content.decode()
    # 40 in unit, 40 1/2 in RO: back bead at the head 40 in instead of 36 in
    assert "40&quot; long" in after
    assert "40&quot; long" not in before


def test_a_refused_length_is_shown_at_its_field_and_nothing_is_saved(signed_in, house):
    entry = {"mark": "W1", "elevation": "Front", "unit_width": "3-6", "unit_height": "60"}

    answer = signed_in.post(address("opening-create", house), entry)

    assert answer.status_code == 422
    assert "unit_width" in answer.context["form"].errors
    assert not Opening.objects.exists()


def test_a_total_is_no_mark(signed_in, house):
    entry = {"mark": "Total", "elevation": "Front", "unit_width": "36", "unit_height": "60"}

    answer = signed_in.post(address("opening-create", house), entry)

    assert answer.status_code == 422
    assert not Opening.objects.exists()


def test_a_file_becomes_openings_only_after_its_preview(signed_in, house):
    answer = signed_in.post(
        address("schedule-send", house), {"schedule": SimpleUploadedFile("lot.csv", SCHEDULE)}
    )
    schedule = ScheduleImport.objects.get()
    assert answer.status_code == 302
    assert not Opening.objects.exists()

    shown = signed_in.get(address("schedule", schedule)).content.decode()
    assert "Save 4 openings" in shown
    signed_in.post(address("schedule-confirm", schedule))

    assert Opening.objects.count() == 4


def test_foreign_headers_are_matched_once_and_remembered(signed_in, house):
    foreign = SCHEDULE.replace(b"mark,unit_width,unit_height", b"Kennung,Breite,Hoehe")
    signed_in.post(address("schedule-send", house), {"schedule": SimpleUploadedFile("lot.csv", foreign)})
    schedule = ScheduleImport.objects.get()
    form = signed_in.get(address("schedule", schedule)).context["match_form"]
    chosen = {"Kennung": "mark", "Breite": "unit_width", "Hoehe": "unit_height"}
    entry = {
        f"header-{number}": chosen.get(header, header if header in ("elevation", "count") else "")
        for number, header in enumerate(form.headers)
    }

    answer = signed_in.post(address("schedule-match", schedule), entry)

    assert answer.status_code == 302
    assert HeaderMatch.objects.get().mapping["Kennung"] == "mark"
    assert "Save 4 openings" in signed_in.get(address("schedule", schedule)).content.decode()


def test_refused_rows_come_back_with_what_to_do(signed_in, house):
    bad = SCHEDULE + b"Rear,=cmd(),3-6,48,,,\n"
    signed_in.post(address("schedule-send", house), {"schedule": SimpleUploadedFile("lot.csv", bad)})
    schedule = ScheduleImport.objects.get()

    refused = signed_in.get(address("schedule-refused-rows", schedule)).content.decode("utf-8-sig")

    rows = refused.splitlines()
    assert rows[0].endswith("what to do")
    assert rows[1].startswith("Rear,'=cmd(),3-6,48")
    assert "foot mark" in rows[1]


def test_a_specification_is_saved_as_a_new_version(signed_in, house):
    answer = signed_in.post(
        reverse("project-specification", args=[house.project_id]), {"weep_gap": "4", "source": "Sheet 12"}
    )

    assert answer.status_code == 302
    version = SpecificationVersion.objects.get()
    assert (version.settings, version.sources) == ({"weep_gap": "4"}, {"weep_gap": "Sheet 12"})


def test_a_refused_setting_is_shown_at_its_field(signed_in, house):
    answer = signed_in.post(reverse("project-specification", args=[house.project_id]), {"weep_gap": "wide"})

    assert answer.status_code == 422
    assert "weep_gap" in answer.context["form"].errors
    assert not SpecificationVersion.objects.exists()


@pytest.mark.parametrize("name", ["house", "house-copy", "opening-create", "schedule-send"])
def test_another_company_s_house_does_not_exist(client, stranger, house, name):
    client.force_login(stranger.user)

    assert client.get(address(name, house)).status_code == 404


def test_every_page_of_a_full_house_opens(signed_in, full_house):
    row = Opening.objects.get(mark="W1")
    pages = [
        address("house-copy", full_house),
        address("opening-create", full_house),
        address("schedule-send", full_house),
        address("elevation", row.elevation),
        address("opening-edit", row),
        reverse("specification"),
        reverse("project-specification", args=[full_house.project_id]),
    ]

    assert {page: signed_in.get(page).status_code for page in pages} == dict.fromkeys(pages, 200)


# With the built-in settings the outer sill screws stand 3 in from the corner: at the weep gap's end.
# The last opening has no pan and so no weep gaps: what all others share is not true of the whole house.
@pytest.mark.parametrize(("openings", "times"), [(3, 3), (4, 1)])
def test_a_remark_that_many_openings_share_is_said_once(signed_in, house, manager, openings, times):
    lines = [*(f"Front,W{number},36,60," for number in range(openings)), "Front,X,36,60,none"]
    content = "\n".join(["elevation,mark,unit_width,unit_height,pan", *lines]).encode()
    schedule = services.start_import(by=manager, house=house, file_name="lot.csv", content=content)
    services.confirm_import(by=manager, schedule_import=schedule)

    page = signed_in.get(address("house", house)).content.decode()

    assert page.count("dab their heads with sealant") == times
    assert ("4 openings: <bdi>W0, W1, W2, W3</bdi>" in page) is (times == 1)
