"""Sending crews to elevations: one crew a day, clashes told at once, need dates following."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from crews import services
from crews.errors import AlreadySent, Clash, Unplaced
from crews.models import Assignment
from materials.models import NeedDate
from projects.errors import Archived, NotAllowed, NotThere, UserError
from projects.models import UNPLACED, AuditEntry
from projects.services import archive_house, tick_readiness
from tests.factories.crews import MONDAY, TUESDAY, crew_of, face_of, house_with
from tests.factories.houses import ElevationFactory
from tests.factories.openings import accept_all_windows

pytestmark = pytest.mark.django_db


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def blue(company):
    return crew_of(company, "BLUE")


@pytest.fixture
def front(company):
    return face_of(house_with(company))


@pytest.fixture
def three_faces(company):
    house = house_with(company, *(f"F{number},W{number},36,60,,," for number in range(3)))
    return [face_of(house, f"F{number}") for number in range(3)]


def send(by, crew, face, day=MONDAY, **more):
    return services.assign_crew(by=by, crew=crew, elevation=face, day=day, **more)


def test_a_crew_is_sent_and_the_need_date_follows(foreman, red, front):
    sent = send(foreman, red, front)

    assert (sent.assignment.crew, sent.assignment.elevation, sent.assignment.date) == (red, front, MONDAY)
    assert sent.warnings == ()
    needed = NeedDate.objects.get(elevation=front)
    assert (needed.date, needed.basis) == (MONDAY, "crew plan")
    assert AuditEntry.objects.filter(action="assign crew").count() == 1


def test_the_earliest_day_is_when_materials_are_needed(foreman, red, front):
    send(foreman, red, front, TUESDAY)
    first = send(foreman, red, front, MONDAY).assignment

    assert NeedDate.objects.get(elevation=front).date == MONDAY

    services.withdraw_assignment(by=foreman, assignment=first)

    assert NeedDate.objects.get(elevation=front).date == TUESDAY


def test_withdrawing_the_last_crew_takes_its_need_date_away(foreman, red, front):
    row = send(foreman, red, front).assignment

    services.withdraw_assignment(by=foreman, assignment=row)

    assert not Assignment.objects.exists()
    assert not NeedDate.objects.exists()


def test_a_second_crew_on_that_day_is_refused_and_told_who_is_there(foreman, red, blue, front):
    send(foreman, red, front)

    with pytest.raises(Clash) as refusal:
        send(foreman, blue, front)

    assert refusal.value.parameters["crew"] == "RED"
    assert Assignment.objects.get().crew == red


def test_the_same_crew_twice_changes_nothing(foreman, red, front):
    send(foreman, red, front)

    with pytest.raises(AlreadySent):
        send(foreman, red, front)

    assert Assignment.objects.count() == 1


def test_taking_over_gives_the_day_to_the_other_crew(foreman, red, blue, front):
    row = send(foreman, red, front).assignment

    services.move_assignment(by=foreman, assignment=row, crew=blue, day=MONDAY)

    assert Assignment.objects.get().crew == blue


def test_a_move_to_a_taken_day_is_refused(foreman, red, blue, front):
    send(foreman, blue, front, TUESDAY)
    row = send(foreman, red, front, MONDAY).assignment

    with pytest.raises(Clash):
        services.move_assignment(by=foreman, assignment=row, crew=red, day=TUESDAY)

    row.refresh_from_db()
    assert row.date == MONDAY


def test_nothing_unplaced_is_assigned(foreman, red, company):
    nowhere = ElevationFactory(house__project__company=company, name=UNPLACED)

    with pytest.raises(Unplaced):
        send(foreman, red, nowhere)

    assert not Assignment.objects.exists()
    assert not NeedDate.objects.exists()


def test_an_archived_house_or_crew_is_sent_nowhere(foreman, manager, red, blue, front):
    archive_house(by=manager, house=front.house)
    services.archive_crew(by=foreman, crew=blue)

    for crew, face in ((red, front), (blue, face_of(house_with(red.company)))):
        with pytest.raises(Archived):
            send(foreman, crew, face)

    assert not Assignment.objects.exists()


def test_missing_ticks_are_a_warning_and_no_refusal(foreman, red, front):
    tick_readiness(by=foreman, elevation=front, ready=["framing_ready", "sheathing_ready", "access_ready"])

    sent = send(foreman, red, front)

    # B1 wants the WRB before the window
    assert sent.warnings == ("Front is not ready: the roof is not dried in; the WRB is not on.",)
    assert Assignment.objects.count() == 1


def test_windows_that_are_not_accepted_are_named(foreman, red, company):
    rows = [f"Front,{mark},36,60,,," for mark in ("101", "102", "103", "104")]
    house = house_with(company, *rows, accepted=False)
    accept_all_windows(foreman, house, "102")

    sent = send(foreman, red, face_of(house))

    assert sent.warnings == ("Front is not ready: 3 windows are not accepted: 101, 103, 104.",)


def test_the_wrb_is_not_missed_where_it_comes_after_the_window(foreman, red, company):
    house = house_with(company)
    face = face_of(house)
    face.openings.update(method="B")
    tick_readiness(
        by=foreman,
        elevation=face,
        ready=["framing_ready", "sheathing_ready", "roof_dried_in", "access_ready"],
    )

    assert send(foreman, red, face_of(house)).warnings == ()


def test_the_walking_order_is_the_order_of_sending_or_the_position_given(foreman, red, company):
    house = house_with(company, "Front,W1,36,60,,,", "Rear,W2,36,60,,,", "Left,W3,36,60,,,")
    front, rear, left = (face_of(house, name) for name in ("Front", "Rear", "Left"))
    send(foreman, red, front)
    send(foreman, red, rear)
    send(foreman, red, left, position=0)

    walked = Assignment.objects.order_by("position").values_list("elevation__name", flat=True)

    assert list(walked) == ["Left", "Front", "Rear"]


def test_walking_earlier_changes_places_with_the_one_before(foreman, red, company):
    house = house_with(company, "Front,W1,36,60,,,", "Rear,W2,36,60,,,")
    send(foreman, red, face_of(house, "Front"))
    second = send(foreman, red, face_of(house, "Rear")).assignment

    services.walk_earlier(by=foreman, assignment=second)
    services.walk_earlier(by=foreman, assignment=second)

    walked = Assignment.objects.order_by("position").values_list("elevation__name", flat=True)
    assert list(walked) == ["Rear", "Front"]


def test_crew_people_plan_nothing_and_strangers_see_nothing(hand, stranger, red, front):
    with pytest.raises(NotAllowed):
        send(hand, red, front)
    with pytest.raises(NotThere):
        send(stranger, red, front)

    assert not Assignment.objects.exists()


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(
    moves=st.lists(
        st.tuples(
            st.sampled_from(["assign", "move", "withdraw", "earlier"]),
            st.integers(0, 1),
            st.integers(0, 2),
            st.integers(0, 2),
        ),
        max_size=10,
    )
)
def test_no_crew_is_ever_at_two_places_and_no_face_has_two_crews(foreman, red, blue, three_faces, moves):
    Assignment.objects.all().delete()
    NeedDate.objects.all().delete()
    crews, faces = [red, blue], three_faces

    for move, crew, face, day in moves:
        on = MONDAY + dt.timedelta(days=day)
        there = Assignment.objects.filter(elevation=faces[face]).order_by("date").first()
        try:
            if move == "assign":
                send(foreman, crews[crew], faces[face], on)
            elif there and move == "move":
                services.move_assignment(by=foreman, assignment=there, crew=crews[crew], day=on)
            elif there and move == "withdraw":
                services.withdraw_assignment(by=foreman, assignment=there)
            elif there:
                services.walk_earlier(by=foreman, assignment=there)
        except UserError:
            pass  # a refusal writes nothing, which the counts below see

    rows = list(Assignment.objects.values_list("crew", "date", "position", "elevation"))
    assert len({row[:3] for row in rows}) == len(rows)
    assert len({(row[3], row[1]) for row in rows}) == len(rows)
    first = {face.pk: min((r[1] for r in rows if r[3] == face.pk), default=None) for face in faces}
    needed = dict(NeedDate.objects.filter(elevation__in=faces).values_list("elevation", "date"))
    assert needed == {pk: day for pk, day in first.items() if day}
