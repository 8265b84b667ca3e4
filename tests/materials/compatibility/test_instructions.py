"""Makers' sheets: what is taken in, which holds, who gets the file; on both databases."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction
from django.urls import reverse

from materials import services
from materials.models import InstructionSheet
from materials.selectors.instructions import exposure_limit, sheets_in_force, sheets_page
from materials.selectors.orders import local_today
from projects import job_files
from projects.errors import BadValue, NotAllowed, NotThere, StaleVersion
from tests.materials.compatibility.building import PDF, a_sheet

pytestmark = pytest.mark.django_db
DAY = date(2026, 6, 8)


@pytest.fixture(autouse=True)
def in_june(time_machine):
    time_machine.move_to(datetime(2026, 6, 8, 16, tzinfo=UTC), tick=False)


def holds(company, material="membrane-9in", day=DAY):
    return sheets_in_force(company, day).get(material)


def test_the_newest_by_its_own_date_holds_whenever_it_was_attached(manager, company):
    newer = a_sheet(manager, dated=date(2026, 3, 2), title="sheet 7")
    a_sheet(manager, dated=date(2025, 3, 2), title="sheet 6")

    assert holds(company).row == newer
    (of_material,) = sheets_page(company).with_sheets
    assert of_material.in_force.row == newer
    assert [(each.row.title, each.superseded_by) for each in of_material.others] == [("sheet 6", newer)]


def test_a_withdrawn_sheet_gives_way_and_comes_back(manager, company):
    older = a_sheet(manager, dated=date(2025, 3, 2))
    newer = a_sheet(manager, dated=date(2026, 3, 2))

    services.withdraw_sheet(by=manager, sheet=newer)
    assert holds(company).row == older

    services.restore_sheet(by=manager, sheet=newer)
    assert holds(company).row == newer


def test_a_sheet_is_old_after_the_months_that_the_company_says(manager, company):
    a_sheet(manager, dated=date(2025, 6, 7))

    # 24 months until somebody says otherwise; a year and a day before 8 June 2026 is old after 12
    assert not holds(company).is_old
    services.set_sheet_age(by=manager, months=12)
    assert holds(company).is_old
    assert not holds(company, day=date(2026, 6, 7)).is_old


def test_the_age_is_kept_once_and_a_late_save_is_refused(manager, owner, company):
    seen = services.set_sheet_age(by=manager, months=12).version
    services.set_sheet_age(by=owner, months=18, version=seen)

    with pytest.raises(StaleVersion):
        services.set_sheet_age(by=manager, months=6, version=seen)
    for months in (0, 121):
        with pytest.raises(BadValue):
            services.set_sheet_age(by=manager, months=months)

    assert sheets_page(company).age.months == 18


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"not a PDF",
        b"<html><script>lwhit()</script>%PDF-1.4 %%EOF",
        b"%PDF-1.4 half of it",
        PDF + b"x" * 2000,
        PDF[:-6] + b"x" * (10 * 1024 * 1024) + b"%%EOF",
    ],
    ids=["empty", "text", "page", "half", "tail", "large"],
)
def test_what_is_no_whole_pdf_is_refused_and_nothing_is_kept(manager, company, content):
    before = sorted(job_files.folder_of(company.pk, job_files.INSTRUCTIONS).glob("*"))

    with pytest.raises(BadValue):
        a_sheet(manager, content=content)

    assert InstructionSheet.objects.count() == 0
    assert sorted(job_files.folder_of(company.pk, job_files.INSTRUCTIONS).glob("*")) == before


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"material": "sealant", "exposure_days": 30}, "exposure_days"),
        ({"exposure_days": 0}, "exposure_days"),
        ({"exposure_days": 731}, "exposure_days"),
        ({"dated": date(2026, 6, 9)}, "dated"),
        ({"title": " "}, "title"),
        ({"material": "tar"}, ""),
    ],
)
def test_what_no_sheet_says_is_refused(manager, values, field):
    with pytest.raises(BadValue) as refusal:
        a_sheet(manager, **values)

    assert refusal.value.parameters["field"] == field
    assert InstructionSheet.objects.count() == 0


def test_today_is_the_companys_own_day(manager, company, time_machine):
    # 9 June 03:00 at Greenwich is still 8 June in New York
    time_machine.move_to(datetime(2026, 6, 9, 3, tzinfo=UTC), tick=False)
    assert local_today(company) == DAY

    with pytest.raises(BadValue):
        a_sheet(manager, dated=DAY + timedelta(days=1))
    assert a_sheet(manager, dated=DAY).pk


def test_the_same_file_with_the_same_date_is_kept_once(manager):
    first = a_sheet(manager, content=PDF, exposure_days=60)

    assert a_sheet(manager, content=PDF, exposure_days=60) == first
    with pytest.raises(BadValue, match="attached already"):
        a_sheet(manager, content=PDF, exposure_days=90)
    assert InstructionSheet.objects.count() == 1

    # a wrong limit is set right by withdrawing the sheet first; it then can't come back beside the new one
    services.withdraw_sheet(by=manager, sheet=first)
    again = a_sheet(manager, content=PDF, exposure_days=90)
    with pytest.raises(BadValue, match="attached already"):
        services.restore_sheet(by=manager, sheet=first)
    assert InstructionSheet.objects.get(withdrawn_at=None) == again


def test_files_lie_under_names_drawn_by_lot_in_the_companys_own_folder(manager, company):
    rows = [a_sheet(manager, title="../../etc/passwd"), a_sheet(manager)]

    for row in rows:
        place = job_files.place_of(row.file_path)
        assert place.parent == job_files.folder_of(company.pk, job_files.INSTRUCTIONS)
        assert len(place.stem) == 32
        assert place.read_bytes().startswith(b"%PDF-")
        assert place.is_relative_to(settings.MEDIA_ROOT)
    assert rows[0].file_path != rows[1].file_path


def test_what_a_sheet_says_is_never_changed_or_deleted(manager):
    row = a_sheet(manager, exposure_days=60)
    rows = InstructionSheet.objects.filter(pk=row.pk)
    changes = [
        {"dated": DAY},
        {"exposure_days": 90},
        {"exposure_days": None},
        {"file_path": "jobs/1/1.pdf"},
        {"content_hash": "0" * 64},
        {"material": "sealant"},
        {"size_bytes": 1},
    ]

    for change in changes:
        with pytest.raises(IntegrityError), transaction.atomic():
            rows.update(**change)
    with pytest.raises(IntegrityError), transaction.atomic():
        rows.delete()


def test_only_the_office_keeps_sheets(foreman, hand, stranger, manager):
    row = a_sheet(manager)

    for by in (foreman, hand):
        with pytest.raises(NotAllowed):
            a_sheet(by)
        with pytest.raises(NotAllowed):
            services.withdraw_sheet(by=by, sheet=row)
    with pytest.raises(NotThere):
        services.withdraw_sheet(by=stranger, sheet=row)
    assert InstructionSheet.objects.get().withdrawn_at is None


def test_the_shortest_limit_of_what_is_used_holds_and_says_from_where(manager, company):
    a_sheet(manager, material="membrane-9in", exposure_days=60, title="sheet 7")
    a_sheet(manager, material="sealant")
    sheets = sheets_in_force(company, DAY)

    nine = exposure_limit(["membrane-9in", "sealant", "shims"], sheets)
    both = exposure_limit(["membrane-9in", "membrane-12in"], sheets)

    assert (nine.days, nine.told) == (60, "Flashing membrane 9 in: P, sheet 7, 2 Mar 2026")
    # nobody has attached a sheet of the 12 in membrane: common practice, no source
    assert (both.days, both.told) == (30, "Flashing membrane 12 in: C, common practice, no source")
    assert exposure_limit(["sealant", "shims"], sheets) is None


def test_a_sheet_without_a_limit_leaves_common_practice(manager, company):
    a_sheet(manager, exposure_days=None)

    limit = exposure_limit(["membrane-9in"], sheets_in_force(company, DAY))

    assert (limit.days, limit.grade) == (30, "C")


def test_the_file_is_an_attachment_for_the_same_company_alone(client_of, hand, stranger, manager):
    row = a_sheet(manager)
    address = reverse("instruction-file", args=[row.pk])

    own, foreign = client_of(hand).get(address), client_of(stranger).get(address)

    assert (own.status_code, foreign.status_code) == (200, 404)
    assert own["Content-Type"] == "application/pdf"
    assert own["Content-Disposition"] == 'attachment; filename="membrane-9in-2026-03-02.pdf"'
    assert own["X-Content-Type-Options"] == "nosniff"
    assert "no-store" in own["Cache-Control"]
    assert b"".join(own).startswith(b"%PDF-")


def test_a_file_that_is_gone_is_not_there(client_of, manager):
    row = a_sheet(manager)
    job_files.place_of(row.file_path).unlink()

    assert client_of(manager).get(reverse("instruction-file", args=[row.pk])).status_code == 404


def sent(client, **values):
    entry = {"material": "membrane-9in", "title": "Sheet 7", "dated": "2026-03-02", "exposure_days": "60"}
    file = values.pop("content", PDF)
    entry["file"] = SimpleUploadedFile(values.pop("name", "sheet.pdf"), file, content_type="application/pdf")
    return client.post(reverse("instruction-new"), {**entry, **values}, follow=True)


def test_the_office_attaches_a_sheet_withdraws_it_and_puts_it_back(client_of, manager):
    client = client_of(manager)

    page = sent(client).content.decode()
    row = InstructionSheet.objects.get()
    assert "Sheet 7 is attached." in page
    assert "covered within 60 days" in page

    gone = client.post(reverse("instruction-withdraw", args=[row.pk]), follow=True).content.decode()
    assert f'action="{reverse("instruction-restore", args=[row.pk])}"' in gone
    assert "No sheet is in force." in gone
    back = client.post(reverse("instruction-restore", args=[row.pk]), follow=True).content.decode()
    assert "Sheet 7 is back." in back


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"content": b"GIF89a", "name": "sheet.pdf"}, "This is no whole PDF."),
        ({"dated": "2026-06-09"}, "is still to come."),
        ({"material": "sealant"}, "Only a membrane has an exposure limit."),
        ({"title": ""}, "Title is empty."),
    ],
)
def test_a_refused_sheet_is_said_at_its_field_and_the_entry_is_kept(client_of, manager, values, says):
    answer = sent(client_of(manager), **values)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert values.get("title", "Sheet 7") in page
    assert InstructionSheet.objects.count() == 0


def test_an_old_sheet_is_called_old_on_the_page(client_of, manager, hand):
    a_sheet(manager, dated=date(2024, 6, 7))

    page = client_of(hand).get(reverse("instructions")).content.decode()

    assert "Look whether the maker has a newer one." in page
    assert "Withdraw" not in page


def test_the_page_takes_as_many_queries_for_many_sheets_as_for_one(
    manager, company, django_assert_num_queries
):
    for years in range(10):
        a_sheet(manager, dated=date(2026 - years, 3, 2))

    with django_assert_num_queries(2):
        page = sheets_page(company)

    assert len(page.with_sheets[0].sheets) == 10
