"""The demo's weather, crew days, prices and stock are plausible: each day holds the work that it is given."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product

import pytest

from openings.takeoff.lifting import weight_of
from projects.quantities.length import Length
from tests.config.demo import Face, face_of, houses, rows, toml

QUARTERS = ("night", "morning", "afternoon", "evening")
# field guide, section 8 (E): person-minutes for a 3 x 5 ft unit, factors by size and access, minutes a move
PERSON_MINUTES = 81
ACCESS = {"ground": Fraction(1), "ladder": Fraction(14, 10), "lift": Fraction(12, 10)}
MOVE_MINUTES = 5
# 07:00 to 15:30 less 75 minutes at the truck before and 30 after, less the breaks: by quarter of the day
WORKED = {"morning": 12 * 60 - (8 * 60 + 15) - 15, "afternoon": 15 * 60 - (12 * 60 + 30)}
COLDEST_C = Fraction(40 - 32) * 5 / 9  # sealant and membrane, 40 F
WINDIEST_MPH = 25


def weather() -> dict[tuple[str, int, str], dict[str, str]]:
    return {(row["place"], int(row["day"]), row["quarter"]): row for row in rows("forecast.csv")}


def place_of(house: str) -> str:
    return next(
        project["weather_place"]
        for project in toml("projects.toml")["projects"]
        if house in {row["code"] for row in project["houses"]}
    )


def is_open(row: dict[str, str]) -> bool:
    """Return whether sealant and membrane may be used in this quarter."""
    return row["rain"] == "no" and int(row["temp_c"]) >= COLDEST_C and int(row["rh"]) < 85


def minutes_open(place: str, day: int) -> int:
    found = weather()
    return sum(minutes for quarter, minutes in WORKED.items() if is_open(found[place, day, quarter]))


def size_factor(width: Length, height: Length) -> Fraction:
    """Return the guide's factor by area: 6 ft2 0.75, 15 ft2 1, 30 ft2 1.5, and on along the last line."""
    square_feet = width.exact_inches * height.exact_inches / 144
    if square_feet <= 6:
        return Fraction(3, 4)
    if square_feet <= 15:
        return Fraction(3, 4) + (square_feet - 6) / 36
    return 1 + (square_feet - 15) / 30


def person_minutes(face: Face, people: int) -> Fraction:
    work = sum(size_factor(o.unit_width, o.unit_height) for o in face.openings) * PERSON_MINUTES
    return work * ACCESS[face.access] + MOVE_MINUTES * people * len(face.openings)


def assigned() -> list[tuple[dict, Face]]:
    return [
        (row, face_of(row["house"], name))
        for row in toml("assignments.toml")["assignments"]
        for name in row["elevations"]
    ]


def people_in() -> dict[str, int]:
    return {crew["code"]: len(crew["members"]) for crew in toml("company.toml")["crews"]}


CREW_DAYS = sorted({(row["day"], row["crew"]) for row, _ in assigned()})


def test_weather_covers_two_weeks_by_quarters_at_both_places():
    places = {place["name"] for place in toml("projects.toml")["weather_places"]}

    assert set(weather()) == set(product(places, range(14), QUARTERS))
    assert len(rows("forecast.csv")) == 2 * 14 * 4
    assert {project["weather_place"] for project in toml("projects.toml")["projects"]} == places


def test_weather_stays_what_a_mountain_spring_brings():
    for row in rows("forecast.csv"):
        assert -10 <= int(row["temp_c"]) <= 25
        assert 30 <= int(row["rh"]) <= 100
        assert row["rain"] in {"yes", "no"}
        assert 0 <= int(row["wind_mph"]) <= 40
        assert row["rain"] == "no" or int(row["temp_c"]) >= 2


def test_weather_has_a_wet_a_windy_a_cold_and_a_foggy_quarter():
    working = [row for row in rows("forecast.csv") if int(row["day"]) % 7 < 5 and row["quarter"] in WORKED]
    town = [row for row in working if row["place"] == "Brackenfall"]

    def days(found):
        return {(int(row["day"]), row["quarter"]) for row in found}

    assert days(row for row in town if row["rain"] == "yes") == {(2, "afternoon")}
    assert days(row for row in town if int(row["wind_mph"]) > WINDIEST_MPH) == {(3, "afternoon")}
    assert days(row for row in town if int(row["temp_c"]) < COLDEST_C) == {(8, "morning")}
    assert days(row for row in town if int(row["rh"]) > 95) == {(10, "morning")}
    # the ridge stays too cold all of day 8
    assert minutes_open("Tarn Ridge", 8) == 0


def test_crews_work_on_working_days_and_never_twice_on_a_face():
    on_faces = Counter((face.house, face.name) for _, face in assigned())

    assert {row["day"] % 7 for row, _ in assigned()} <= set(range(5))
    assert set(on_faces.values()) == {1}
    assert {row["crew"] for row, _ in assigned()} == set(people_in())


def test_crews_only_go_where_work_may_start():
    assert {face.missing for _, face in assigned()} == {()}


def test_a_lift_face_gets_the_crew_that_has_the_lift():
    with_lift = {crew["code"] for crew in toml("company.toml")["crews"] if "lift" in crew["equipment"]}

    assert {row["crew"] for row, face in assigned() if face.access == "lift"} == with_lift


def test_the_lift_is_not_sent_out_in_the_wind():
    found = weather()

    for row, face in assigned():
        if face.access == "lift":
            winds = [found[place_of(face.house), row["day"], quarter]["wind_mph"] for quarter in WORKED]
            assert max(map(int, winds)) <= WINDIEST_MPH


def test_a_pair_sets_nothing_above_a_hundred_pounds():
    for row, face in assigned():
        share = houses()[face.house].specification.frame_share
        weights = [weight_of(opening, share) for opening in face.openings]
        heaviest = max((weight.in_pounds for weight in weights if weight is not None), default=0)

        assert people_in()[row["crew"]] > 2 or heaviest <= 100, f"{face.house} {face.name}"


@pytest.mark.parametrize(("day", "crew"), CREW_DAYS)
def test_every_crew_day_holds_its_work_and_is_no_idle_day(day, crew):
    people = people_in()[crew]
    sent = [face for row, face in assigned() if (row["day"], row["crew"]) == (day, crew)]

    work = sum(person_minutes(face, people) for face in sent)
    share = work / (people * minutes_open(place_of(sent[0].house), day))

    assert Fraction(30, 100) <= share <= Fraction(90, 100), f"{float(share):.2f}"
    # a pair does about 8 openings of 3 x 5 ft a day, three people 10
    assert sum(len(face.openings) for face in sent) <= {2: 8, 3: 10}[people]
