"""The demo's houses, people and prices are plausible, and say what their files' comments promise."""

from __future__ import annotations

import re
import zoneinfo
from itertools import combinations

import pytest

from openings.methods.load import load_methods
from openings.schedule.compare import Standing, compare
from openings.takeoff.compute import HouseTakeoff, take_off_house
from openings.takeoff.opening import OpeningInput
from projects.models import Access, Role
from projects.quantities.length import ZERO_LENGTH, Length
from projects.services import READINESS
from tests.config.demo import FOLDER, Face, faces, houses, read, specification_of, toml, unplaced

HOUSES = [house["code"] for project in toml("projects.toml")["projects"] for house in project["houses"]]
NINE_INCHES = Length.inches(9)


def taken_off(code: str) -> HouseTakeoff:
    house = houses()[code]
    return take_off_house(house.openings, house.specification, load_methods())


def marks_where(wanted) -> set[str]:
    """Return `HOUSE mark` of the openings for which `wanted` holds."""
    return {f"{house.code} {o.mark}" for house in houses().values() for o in house.openings if wanted(o)}


def between(left: OpeningInput, right: OpeningInput) -> Length | None:
    """Return the room between two ROs beside each other; None where one is not placed or stands above."""
    if None in (left.offset, right.offset, left.sill_height, right.sill_height):
        return None
    if left.sill_height + left.ro_height <= right.sill_height:
        return None
    if right.sill_height + right.ro_height <= left.sill_height:
        return None
    first, second = sorted((left, right), key=lambda opening: opening.offset)
    return second.offset - (first.offset + first.ro_width)


def test_houses_and_openings_are_as_the_comment_counts_them():
    comment = (FOLDER / "projects.toml").read_text(encoding="utf-8")
    counted = dict(re.findall(r"^#   ([A-Z]{2}-\d+) .* (\d+)$", comment, re.MULTILINE))

    found = {code: len(house.openings) for code, house in houses().items()}

    assert found == {code: int(count) for code, count in counted.items()}
    assert found == {code: house.row["openings"] for code, house in houses().items()}
    # 20 + 20 + 16 + 16 + 12 + 28 + 17 + 16 + 9
    assert sum(found.values()) == 154
    assert "#   3 projects, 9 houses" in comment
    assert len(found) == 9


@pytest.mark.parametrize("code", HOUSES)
def test_every_house_schedule_is_read_without_a_problem(code):
    reading = houses()[code].reading

    assert list(reading.problems) == []


@pytest.mark.parametrize("code", HOUSES)
def test_schedules_bring_only_the_notices_they_are_meant_to(code):
    meant = {
        "PM-11": {"Columns that are not read: TYPE.", "a total"},
        "PM-12": {"Columns that are not read: TYPE.", "a total"},
        "PM-14": {"Columns that are not read: TYPE.", "a total", "call_size_is = unit"},
        "WL-3": {"Windows-1252", "are read as decimals"},
        "WL-4": {"Windows-1252", "are read as decimals"},
        "TR-1": {"Unplaced"},
    }.get(code, set())
    # headers that the builder uses in other files
    notices = [n for n in houses()[code].reading.notices if "the file has not" not in n]

    assert len(notices) == len(meant)
    assert all(any(words in notice for notice in notices) for words in meant), notices


@pytest.mark.parametrize("code", HOUSES)
def test_every_house_can_be_taken_off(code):
    takeoff = taken_off(code)

    assert list(takeoff.problems) == []
    assert len(takeoff.openings) == houses()[code].row["openings"]


def test_every_face_of_a_schedule_is_described():
    for house in houses().values():
        described = {face.name for face in house.faces}
        used = {opening.elevation for opening in house.openings} - {"Unplaced"}

        assert used == described, house.code


def test_only_one_opening_has_no_face_yet():
    assert {code: unplaced(house) for code, house in houses().items() if unplaced(house)} == {"TR-1": ["W28"]}


@pytest.mark.parametrize("face", faces(), ids=lambda face: f"{face.house} {face.name}")
def test_openings_stand_inside_their_wall(face: Face):
    assert Length.inches(24 * 12) <= face.width <= Length.inches(60 * 12)
    for opening in face.openings:
        assert opening.sill_height > ZERO_LENGTH
        assert opening.sill_height + opening.ro_height <= face.height
        if opening.offset is not None:
            assert opening.offset > ZERO_LENGTH
            assert opening.offset + opening.ro_width <= face.width - NINE_INCHES


def test_only_the_named_pairs_stand_too_close():
    close = set()
    for face in faces():
        for left, right in combinations(face.openings, 2):
            room = between(left, right)
            assert room is None or room > ZERO_LENGTH, f"{face.house} {left.mark} and {right.mark} overlap"
            if room is not None and room < 2 * NINE_INCHES:
                close.add((face.house, left.mark, right.mark))

    assert close == {("PM-14", "B", "C"), ("TR-1", "W11", "W12")}


def test_only_one_opening_stands_at_the_wall_end():
    at_the_end = marks_where(lambda opening: opening.offset and opening.offset < NINE_INCHES)

    assert at_the_end == {"PM-14 F"}


def test_heads_stand_in_rows():
    for face in faces():
        heads = {opening.sill_height + opening.ro_height for opening in face.openings}

        # a storey's heads align; a stair window, a clerestory or a gable adds one row
        assert len(heads) <= 3, f"{face.house} {face.name}"


def test_reversed_plan_mirrors_the_first():
    other_side = {"Front": "Front", "Rear": "Rear", "Left": "Right", "Right": "Left"}
    width = {face.name: face.width for face in houses()["PM-11"].faces}
    mirrored = {opening.mark: opening for opening in houses()["PM-12"].openings}

    for opening in houses()["PM-11"].openings:
        twin = mirrored[opening.mark]
        assert twin.elevation == other_side[opening.elevation]
        assert opening.offset + opening.ro_width + twin.offset == width[opening.elevation]
        assert (twin.unit_width, twin.unit_height) == (opening.unit_width, opening.unit_height)


def test_most_openings_have_a_place_on_their_wall():
    everywhere = [opening for house in houses().values() for opening in house.openings]
    without_offset = marks_where(lambda opening: opening.offset is None)

    assert without_offset == {"WL-4 OG-S01", "WL-4 OG-S02", "TR-1 W28", "TR-4 C801", "TR-4 C802"}
    assert len(everywhere) - len(without_offset) == 149


def test_awkward_openings_are_those_the_comment_names():
    tiny, twelve_feet = Length.inches(12), Length.inches(144)

    assert marks_where(lambda o: o.pan == "none") == {
        "PM-11 107",
        "PM-12 107",
        "PM-14 Q",
        "PM-14 R",
        "TR-4 C7",
    }
    assert marks_where(lambda o: o.pan == "rigid") == {"TR-1 W21", "TR-1 W27"}
    assert marks_where(lambda o: o.unit_width == o.unit_height == tiny) == {"TR-1 W06", "TR-1 W23"}
    assert marks_where(lambda o: o.unit_width == twelve_feet) == {"TR-1 W07"}
    assert marks_where(lambda o: o.head_fasteners == "no") == {"TR-1 W07", "TR-3 T3"}
    assert marks_where(lambda o: o.head_fasteners == "loose") == {"TR-1 W02", "TR-3 B1"}
    assert marks_where(lambda o: o.fastener_corner is not None) == {"TR-1 W08", "TR-1 W09"}
    eight = {"TR-1 W08", "TR-1 W09", "TR-3 T1", "TR-3 T3", "TR-3 B1", "TR-3 B3"}
    assert marks_where(lambda o: o.fastener_max == Length.inches(8)) == eight
    assert marks_where(lambda o: o.fastener_max == Length.mm(200)) == {"WL-3 S01", "WL-4 S01"}
    assert {flag for house in houses().values() for o in house.openings for flag in o.flags} == {
        "tempered",
        "egress",
        "stair",
    }
    assert [code for code, house in houses().items() if house.row["pre_1978"]] == ["TR-4"]


def test_all_four_methods_and_over_fin_details_occur():
    methods = {o.method or h.specification.method for h in houses().values() for o in h.openings}
    details = {house.specification.over_fin for house in houses().values()}

    assert methods == {"A", "A1", "B", "B1"}
    assert details == {"membrane", "sealed"}
    assert {h.code for h in houses().values() if not h.specification.head_strip} == {"WL-3", "WL-4"}
    assert {h.code for h in houses().values() if h.specification.foam_thickness} == {
        "TR-1",
        "TR-2",
        "TR-3",
        "TR-4",
    }


def test_what_needs_the_lift_stands_where_the_lift_goes():
    lifted = {
        (code, taken.opening.elevation, taken.opening.mark)
        for code in HOUSES
        for taken in taken_off(code).openings
        if taken.needs_lift
    }

    assert lifted == {
        ("TR-1", "South upper", "W07"),
        ("TR-1", "South upper", "W08"),
        ("TR-1", "South upper", "W09"),
        ("WL-3", "South", "S01"),
    }
    lift_faces = {(face.house, face.name) for face in faces() if face.access == "lift"}
    assert {(house, face) for house, face, _ in lifted} <= lift_faces


def test_every_revision_changes_what_it_says():
    specification = specification_of("PM")

    for revision in toml("projects.toml")["revisions"]:
        before = read(revision["after"], builder="YARROWBY", specification=specification)
        after = read(revision["schedule"], builder="YARROWBY", specification=specification)
        found = compare(house=before.openings, schedule=after.openings)
        by_standing = {
            standing: sorted(entry.opening.mark for entry in found.openings if entry.standing is standing)
            for standing in Standing
        }

        assert list(after.problems) == []
        assert by_standing[Standing.NEW] == revision["new"]
        assert by_standing[Standing.CHANGED] == revision["changed"]
        assert len(by_standing[Standing.SAME]) == revision["same"]
        assert list(found.not_in_file) == revision["not_in_file"]


def test_every_bad_row_of_the_file_to_fix_is_named():
    for case in toml("projects.toml")["to_fix"]:
        specification = specification_of(case["project"])
        reading = read(case["schedule"], builder=case["builder"], specification=specification)

        assert sorted({problem.row for problem in reading.problems}) == case["bad_rows"]
        assert [opening.mark for opening in reading.openings] == case["good"]


def test_faces_have_known_access_and_ticks():
    thirteen_feet, twenty_two_feet = Length.inches(13 * 12), Length.inches(22 * 12)

    for face in faces():
        highest = max(opening.sill_height + opening.ro_height for opening in face.openings)

        assert face.access in Access.values
        assert set(face.missing) <= set(READINESS)
        assert face.access != "ground" or highest <= thirteen_feet
        assert face.access != "ladder" or highest <= twenty_two_feet


def test_company_has_its_people_and_three_crews():
    company = toml("company.toml")
    people = {person["email"]: person["role"] for person in company["people"]}
    crews = {crew["code"]: crew for crew in company["crews"]}
    sent = [member["email"] for crew in crews.values() for member in crew["members"]]

    assert company["company"]["time_zone"] in zoneinfo.available_timezones()
    assert all(email.endswith(".example") for email in people)
    assert {code: len(crew["members"]) for code, crew in crews.items()} == {"RED": 3, "BLUE": 2, "GREY": 3}
    assert sorted(people.values()) == sorted(
        [Role.OWNER, Role.MANAGER, *[Role.FOREMAN] * 3, *[Role.CREW] * 5]
    )
    assert len(sent) == len(set(sent))
    assert set(sent) == {email for email, role in people.items() if role in {Role.FOREMAN, Role.CREW}}
    assert {people[crew["foreman"]] for crew in crews.values()} == {Role.FOREMAN}
    wages = company["wages"]
    # field guide, section 11
    assert [wages[grade] for grade in ("lead", "installer", "helper")] == ["34.00", "27.00", "21.00"]
    assert wages["burden_percent"] == 40
