"""Houses, elevations, numbers and remembered headers, written through services."""

from __future__ import annotations

import pytest

from projects import services
from projects.actors import CommandLine
from projects.errors import Archived, BadValue, InUse, NotAllowed, NotThere, StaleVersion, Taken
from projects.models import UNPLACED, Access, AuditEntry, Elevation, House
from projects.selectors import headers_of, house_by_code, live_houses
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def house(company):
    return HouseFactory(project__company=company, code="LOT-1", plan_name="Linden, left hand", pre_1978=True)


def actions(company):
    return list(AuditEntry.objects.of(company).order_by("id").values_list("action", flat=True))


def test_a_foreman_creates_no_project(foreman):
    with pytest.raises(NotAllowed):
        services.create_project(by=foreman, code="ALDER", name="Alder Row", builder="Teasel Homes")

    assert actions(foreman.company) == []


def test_the_command_line_is_named_in_the_audit_trail(company):
    services.create_project(by=CommandLine(company), code="ALDER", name="Alder Row", builder="Teasel Homes")

    entry = AuditEntry.objects.of(company).get()
    assert (entry.actor, entry.user) == ("command line", None)


def test_an_edit_keeps_what_differed_before_and_after(manager, house):
    services.edit_house(by=manager, house=house, version=1, code="LOT-1", name="Lot 1, corner", pre_1978=True)

    entry = AuditEntry.objects.of(manager.company).get()
    assert entry.before == {"name": house.name, "plan_name": "Linden, left hand"}
    assert entry.after == {"name": "Lot 1, corner", "plan_name": ""}


def test_an_old_version_is_refused_with_who_saved(manager, owner, house):
    services.edit_house(by=owner, house=house, version=1, code="LOT-1", name="Lot 1, corner")

    with pytest.raises(StaleVersion) as refusal:
        services.edit_house(by=manager, house=house, version=1, code="LOT-1", name="Lot 1, end")

    assert refusal.value.parameters["who"] == "Odalys Brandt"
    house.refresh_from_db()
    assert house.name == "Lot 1, corner"


def test_another_companys_house_is_not_there(stranger, house):
    with pytest.raises(NotThere):
        services.archive_house(by=stranger, house=house)

    house.refresh_from_db()
    assert not house.archived


def test_a_copied_house_has_the_same_faces_and_nothing_ready(manager, house):
    front = ElevationFactory(
        house=house, name="Front", walking_order=0, access=Access.LADDER, framing_ready=True
    )
    back = ElevationFactory(house=house, name="Back", walking_order=1)

    copy, faces = services.copy_house_shell(by=manager, house=house, code="LOT-2", name="Lot 2")

    assert (copy.project, copy.plan_name, copy.pre_1978) == (house.project, "Linden, left hand", True)
    assert [face.name for face in copy.elevations.all()] == ["Front", "Back"]
    assert (faces[front.pk].access, faces[front.pk].framing_ready) == (Access.LADDER, False)
    assert faces[back.pk].house == copy


def test_a_house_is_not_copied_onto_a_code_in_use(manager, house):
    ElevationFactory(house=house)

    with pytest.raises(Taken):
        services.copy_house_shell(by=manager, house=house, code="lot-1", name="Lot 2")

    assert House.objects.of(manager.company).count() == 1
    assert Elevation.objects.of(manager.company).count() == 1


def test_a_house_is_not_copied_into_another_companys_project(manager, house):
    with pytest.raises(NotThere):
        services.copy_house_shell(
            by=manager, house=house, code="LOT-2", name="Lot 2", project=ProjectFactory()
        )

    assert House.objects.of(manager.company).count() == 1


def test_faces_are_made_once_in_the_order_given(manager, house):
    ElevationFactory(house=house, name="Front", walking_order=0)

    placed = services.place_elevations(by=manager, house=house, names=["Left", "FRONT", "Back", "Left"])

    assert [face.name for face in house.elevations.all()] == ["Front", "Left", "Back"]
    assert placed["FRONT"].name == "Front"
    assert actions(manager.company) == ["add elevation", "add elevation"]


def test_an_archived_house_gets_no_faces(manager, house):
    services.archive_house(by=manager, house=house)

    with pytest.raises(Archived):
        services.place_elevations(by=manager, house=house, names=["Front"])

    assert not house.elevations.exists()


def test_an_unplaced_face_is_no_place(house):
    assert not ElevationFactory(house=house, name=UNPLACED).is_placed
    assert ElevationFactory(house=house, name="Front").is_placed


def test_a_foreman_sets_access_and_ticks_what_is_ready(foreman, house):
    front = ElevationFactory(house=house, name="Front")

    services.edit_elevation(by=foreman, elevation=front, version=1, name="Front", access="lift")
    services.tick_readiness(by=foreman, elevation=front, ready=["framing_ready", "access_ready"])

    front.refresh_from_db()
    assert (front.access, front.version) == ("lift", 3)
    assert [tick for tick in services.READINESS if getattr(front, tick)] == [
        "framing_ready",
        "access_ready",
    ]


def test_two_faces_do_not_share_a_name(manager, house):
    front = ElevationFactory(house=house, name="Front")
    ElevationFactory(house=house, name="Back")

    with pytest.raises(Taken):
        services.edit_elevation(by=manager, elevation=front, version=1, name="back", access="ground")

    front.refresh_from_db()
    assert front.name == "Front"


def test_faces_are_walked_in_the_order_given(foreman, house):
    front, left, back = [ElevationFactory(house=house, name=name) for name in ("Front", "Left", "Back")]

    services.walk_in_order(by=foreman, house=house, elevations=[back, front])

    assert list(house.elevations.all()) == [back, front, left]


def test_a_face_that_nothing_stands_on_is_removed(manager, house):
    front = ElevationFactory(house=house)

    services.remove_elevation(by=manager, elevation=front)

    assert not house.elevations.exists()
    assert actions(manager.company) == ["remove elevation"]


def test_a_face_with_openings_is_not_removed(manager, house):
    from openings.models import Opening

    front = ElevationFactory(house=house, name="Front")
    Opening.objects.create(
        company=manager.company,
        house=house,
        elevation=front,
        mark="W1",
        **dict.fromkeys(("unit_width_nm", "unit_height_nm", "ro_width_nm", "ro_height_nm"), 10**9),
    )

    with pytest.raises(InUse):
        services.remove_elevation(by=manager, elevation=front)

    assert house.elevations.get() == front
    assert actions(manager.company) == []


def test_numbers_have_no_gaps_per_kind_and_year(manager, stranger):
    numbers = [services.next_number(by=manager, kind="order", year=2026) for _ in range(3)]

    assert numbers == [1, 2, 3]
    assert services.next_number(by=manager, kind="order", year=2027) == 1
    assert services.next_number(by=manager, kind="change", year=2026) == 1
    assert services.next_number(by=stranger, kind="order", year=2026) == 1


def test_headers_are_remembered_per_builder_and_added_to(manager, stranger):
    services.remember_headers(by=manager, builder="Teasel Homes", mapping={"Tag": "mark", "Colour": None})
    services.remember_headers(by=manager, builder="TEASEL homes", mapping={"W": "unit_width"})

    assert headers_of(manager.company, "teasel homes") == {"Tag": "mark", "Colour": None, "W": "unit_width"}
    assert headers_of(stranger.company, "Teasel Homes") == {}
    assert actions(manager.company) == ["remember headers", "remember headers"]


def test_the_same_headers_again_write_nothing(manager):
    for _ in range(2):
        services.remember_headers(by=manager, builder="Teasel Homes", mapping={"Tag": "mark"})

    assert actions(manager.company) == ["remember headers"]


def test_a_house_is_found_by_its_code_in_any_case(house):
    assert house_by_code(house.company, "lot-1") == house


def test_an_unknown_code_says_where_codes_are(company):
    with pytest.raises(BadValue, match="There is no house 'LOT-9'"):
        house_by_code(company, "LOT-9")


def test_houses_of_an_archived_project_are_not_live(manager, house):
    services.archive_project(by=manager, project=house.project)

    assert list(live_houses(manager.company)) == []
