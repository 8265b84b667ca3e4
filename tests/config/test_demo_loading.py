"""`demo load` and `demo remove`: everything through the services, all of it or nothing, each way once."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.apps import apps
from django.test import Client

from crews.models import Assignment, Crew, CrewMember, Forecast, Rental
from materials.models import NeedDate, OrderEvent, Price, PurchaseOrder
from materials.selectors.growth import growth_of
from materials.selectors.orders import local_today
from openings.models import Opening, ScheduleImport, SpecificationVersion
from projects import job_files, triggers
from projects.models import AuditEntry, Company, Device, Elevation, House, Membership, Project, User
from tests.config.demo import toml
from tests.config.loaded import CODE, company, loaded, run
from tests.factories.houses import HouseFactory
from tests.factories.people import CompanyFactory, MembershipFactory, UserFactory

__all__ = ["loaded"]
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("loaded")]
WEEK = timedelta(days=7)


def everything() -> dict[str, list]:
    """Return the rows of every table that hangs below a company, and people and companies."""
    models = [*triggers.owned_models(), Company, User]
    return {model._meta.label: list(model._default_manager.order_by("pk").values_list()) for model in models}


def first_monday() -> date:
    return Assignment.objects.of(company()).earliest("date").date


def test_demo_holds_what_its_files_promise(loaded):
    demo = company()

    # projects.toml: 20 + 20 + 16 + 16 + 12 + 28 + 17 + 16 + 9 openings
    assert loaded["counts"] == {
        "people": 10,
        "projects": 3,
        "houses": 9,
        "openings": 154,
        "crews": 3,
        "assignments": 24,
        "days of weather": 28,
        "lots": 8 + 3,
        "instruction sheets": 1 + 2 + 1,
        "orders": loaded["counts"]["orders"],
    }
    assert Opening.objects.of(demo).filter(removed_at=None).count() == 154
    assert (Project.objects.of(demo).count(), House.objects.of(demo).count()) == (3, 9)
    assert SpecificationVersion.objects.of(demo).count() == 3
    assert (Crew.objects.of(demo).count(), CrewMember.objects.of(demo).count()) == (3, 8)
    assert Forecast.objects.of(demo).count() == 2 * 14 * 4
    assert Price.objects.of(demo).count() == 36 + 23
    assert Rental.objects.of(demo).get().cents_per_day == 165_00
    assert not ScheduleImport.objects.of(demo).exclude(state="saved").exists()
    assert demo.yard == "Quillmoor yard, 9 Saltern Road, Brackenfall"


def test_first_week_is_next_week(loaded):
    today = local_today(company())

    assert first_monday().weekday() == 0
    assert 0 < (first_monday() - today).days <= 7


def test_everybody_signs_in_with_the_open_password(loaded):
    assert len(loaded["sign_ins"]) == 10
    for person in loaded["sign_ins"]:
        entry = {"username": person["email"], "password": person["password"]}
        answer = Client().post("/sign-in/", entry)
        assert answer.status_code == 302
        member = Membership.objects.of(company()).get(user__email=person["email"])
        assert (member.role, member.name) == (person["role"], person["name"])


def test_faces_are_reached_walked_and_ready_as_told():
    for project in toml("projects.toml")["projects"]:
        for house in project["houses"]:
            faces = Elevation.objects.of(company()).filter(house__code=house["code"]).exclude(name="Unplaced")
            assert [face.name for face in faces] == [row["name"] for row in house["elevations"]]
            for face, row in zip(faces, house["elevations"], strict=True):
                assert face.access == row["access"]
                missing = {
                    tick for tick in ("wrb_ready", "roof_dried_in", "access_ready") if not getattr(face, tick)
                }
                assert missing <= set(row["missing"])


def test_each_elevation_has_a_day_its_crew_s_before_the_builder_s():
    days = NeedDate.objects.of(company())
    sent = Assignment.objects.of(company())

    assert days.count() == Elevation.objects.of(company()).exclude(name="Unplaced").count()
    assert days.filter(basis="crew plan").count() == sent.values("elevation").distinct().count()
    for day in days.filter(basis="crew plan").select_related("elevation"):
        assert day.date == sent.filter(elevation=day.elevation).earliest("date").date


def test_first_week_waits_for_the_office_second_has_one_order_out():
    orders = PurchaseOrder.objects.of(company())

    first = orders.filter(week=first_monday())
    later = orders.filter(week=first_monday() + WEEK)
    assert first.exists()
    assert not first.exclude(number=None).exists()
    issued = later.exclude(number=None).get()
    assert issued.total_cents == max(order.total_cents for order in later)
    assert issued.issued_by.name == "Pilar Oakhanger"
    events = OrderEvent.objects.of(company()).order_by("id")
    assert [(event.order, event.kind) for event in events] == [
        (issued, "issued"),
        (issued, "acknowledged"),
        (issued, "part delivered"),
    ]
    assert all(not growth_of(order).is_stale for order in first)


def test_issued_order_shows_the_revision_that_came_after_it():
    issued = PurchaseOrder.objects.of(company()).exclude(number=None).get()

    told = {each.material: each for each in growth_of(issued).differences}

    # PM-14 E is a foot taller: two jamb strips of 60.5 + 17 = 77.5 in instead of 65.5
    membrane = growth_of(issued).wanted[0]
    assert (membrane.material, dict(membrane.pieces)) == ("membrane-9in", {77_5 * 2_540_000: 2})
    # PM-14 M is a foot narrower: its pan of 48.5 in is cut from one of 60.5
    assert told["membrane-12in"].surplus == 12 * 25_400_000
    assert told["membrane-12in"].to_order == 0


def test_people_did_it_and_the_record_says_who():
    actors = AuditEntry.objects.of(company()).values_list("action", "actor").distinct()

    assert ("issue order", "Pilar Oakhanger") in actors
    assert ("assign crew", "Anselm Crake") in actors
    assert ("set price", "Maud Thistlewood") in actors


def test_loading_twice_changes_nothing_and_says_so():
    before = everything()

    answer, code = run("demo", "load")

    assert code == 0
    assert answer["notices"] == ["The demo is there already; nothing was changed."]
    assert (answer["loaded"], answer["counts"]) == (False, {})
    assert everything() == before


def test_invariants_hold_in_the_demo():
    answer, code = run("verify_invariants")

    assert (code, answer["problems"]) == (0, [])
    assert all(told["holds"] for told in answer["invariants"])


def test_removing_takes_all_of_it_and_nothing_of_others():
    other = HouseFactory()
    shared = User.objects.get(email="imke@quillmoor.example")
    elsewhere = MembershipFactory(company=other.company, user=shared)
    mine = company().pk

    answer, code = run("demo", "remove")

    assert (code, answer["removed"]) == (0, True)
    assert sum(answer["counts"].values()) > 1000
    for model in triggers.owned_models():
        assert not model.objects.filter(company=mine).exists(), model
    assert list(Company.objects.values_list("code", flat=True)) == [other.company.code]
    assert House.objects.get() == other
    # whoever signs in for another company too stays
    assert list(User.objects.filter(email__endswith="@quillmoor.example")) == [shared]
    assert Membership.objects.get() == elsewhere
    assert set(triggers.installed()) == {trigger.full_name for trigger in triggers.wanted()}


def test_removed_demo_can_be_loaded_again_from_another_monday():
    run("demo", "remove")

    answer, code = run("demo", "load", "--monday", "2026-06-10")

    assert code == 0
    assert answer["counts"]["openings"] == 154
    # any day of the week names its Monday
    assert first_monday() == date(2026, 6, 8)


def test_removing_what_is_not_there_changes_nothing():
    run("demo", "remove")
    before = everything()

    answer, code = run("demo", "remove")

    assert code == 0
    assert answer["notices"] == ["The demo is not there; nothing was changed."]
    assert everything() == before


@pytest.mark.parametrize("kind", job_files.KINDS)
def test_its_files_go_too(settings, tmp_path, django_capture_on_commit_callbacks, kind):
    settings.MEDIA_ROOT = tmp_path
    folder = job_files.folder_of(company().pk, kind)
    folder.mkdir(parents=True)
    (folder / "1.pdf").write_bytes(b"%PDF")

    with django_capture_on_commit_callbacks(execute=True):
        run("demo", "remove")

    assert not folder.exists()


def test_company_of_the_same_code_is_never_taken_for_the_demo():
    run("demo", "remove")
    real = HouseFactory(project__company=CompanyFactory(code=CODE)).company
    MembershipFactory(company=real, role="owner")
    before = everything()

    for what in ("load", "remove"):
        answer, code = run("demo", what)
        assert code == 1
        assert "is a company of its own" in answer["problems"][0]["problem"]

    assert everything() == before


def test_address_that_signs_in_elsewhere_stops_the_load_and_nothing_is_left():
    run("demo", "remove")
    MembershipFactory(user=UserFactory(name="Silas", email="silas@quillmoor.example"))
    before = everything()

    answer, code = run("demo", "load")

    assert code == 1
    assert answer["problems"]
    assert everything() == before


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [(("load", "--monday", "Monday"), 1), (("remove", "--monday", "2026-06-08"), 2)],
)
def test_wrong_calls_change_nothing(arguments, expected):
    before = everything()

    answer, code = run("demo", *arguments)

    assert code == expected
    assert answer["problems"]
    assert everything() == before


def test_every_table_of_ours_hangs_below_a_company_so_that_removing_finds_it():
    apps_of_ours = {"projects", "openings", "materials", "crews", "config"}

    ours = {model for model in apps.get_models() if model._meta.app_label in apps_of_ours}

    assert ours - set(triggers.owned_models()) == {Company, Device, User}
