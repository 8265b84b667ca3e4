"""What a crew writes down: steps done in order, once, taken back by a record beside the first."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import IntegrityError, connection, transaction
from django.urls import reverse

from crews import services
from crews.errors import OtherSteps, ReverseLap, StepGone, StepRestedOn, StepTooSoon
from crews.models import CrewMember, WorkEntry, WorkRecord
from crews.selectors.work import done_steps
from openings.models import Opening
from projects import triggers
from projects.errors import NotThere
from projects.models import AuditEntry
from tests.factories.crews import MONDAY, crew_of, face_of, fine_day, house_with
from tests.factories.people import MembershipFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def sheet(foreman, company, red):
    """RED's sheet of a house's front with two openings."""
    fine_day(company)
    house = house_with(company, "Front,W1,36,60,24,36,sealed", "Front,W2,24,36,120,36,sealed")
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house), day=MONDAY)
    return services.plan_day(by=foreman, crew=red, day=MONDAY)


@pytest.fixture
def opening(sheet):
    return Opening.objects.get(mark="W1")


@pytest.fixture
def phone(client, hand, red):
    CrewMember.objects.filter(pk=red.members.first().pk).update(user=hand.user)
    client.force_login(hand.user)
    return client


def codes_of(sheet, mark="W1"):
    (visit,) = [visit for visit in sheet.plan["visits"] if visit["mark"] == mark]
    return [step["code"] for step in visit["steps"]]


def mark(by, red, opening, *steps, key="tap", **more):
    return services.mark_done(by=by, crew=red, day=MONDAY, opening=opening, steps=steps, key=key, **more)


def done(opening):
    return set(done_steps(opening.company, [opening.pk]).get(opening.pk, {}))


def test_a_step_is_done_by_whom_and_when_and_once_however_often_the_tap_comes(hand, red, opening, sheet):
    first = codes_of(sheet)[0]

    entry = mark(hand, red, opening, first)
    again = mark(hand, red, opening, first)

    assert again == entry
    assert WorkRecord.objects.count() == 1
    assert done_steps(opening.company, [opening.pk])[opening.pk][first] == entry
    assert (entry.by, entry.crew, entry.day) == (hand.user, red, MONDAY)
    assert AuditEntry.objects.filter(action="mark steps done").count() == 1


def test_the_same_tap_with_other_steps_is_refused(hand, red, opening, sheet):
    one, two = codes_of(sheet)[:2]
    mark(hand, red, opening, one)

    with pytest.raises(OtherSteps):
        mark(hand, red, opening, one, two)
    assert done(opening) == {one}


def test_what_lies_over_something_that_is_not_done_is_a_reverse_lap(hand, red, opening):
    # field guide 3: the pan lies over the sill strip, in all methods
    mark(hand, red, opening, "check", "cut-wrb", with_earlier=True)

    with pytest.raises(ReverseLap) as refused:
        mark(hand, red, opening, "pan", key="second")

    assert "sill strip" in str(refused.value.parameters["first"]).lower()
    assert "pan" not in done(opening)
    assert WorkEntry.objects.count() == 1


def test_what_comes_too_soon_without_a_lap_says_what_comes_first(hand, red, opening):
    with pytest.raises(StepTooSoon):
        mark(hand, red, opening, "fasten")
    assert done(opening) == set()


def test_marked_with_what_comes_before_it_the_order_is_whole(hand, red, opening, sheet):
    mark(hand, red, opening, "set", with_earlier=True)

    assert done(opening) >= {"set", "back-bead", "pan", "sill-strip"}
    assert "face-bead" not in done(opening)
    rows = list(WorkRecord.objects.order_by("pk").values_list("step", flat=True))
    assert rows.index("sill-strip") < rows.index("pan") < rows.index("set")


def test_a_whole_opening_is_marked_in_one_go_and_taken_back_in_one(hand, red, opening, sheet):
    entry = mark(hand, red, opening, *codes_of(sheet))
    assert done(opening) == set(codes_of(sheet))

    services.take_back_work(by=hand, entry=entry)
    services.take_back_work(by=hand, entry=entry)

    assert done(opening) == set()
    assert WorkRecord.objects.count() == 2 * len(codes_of(sheet))


def test_what_others_rest_on_stays_until_they_are_taken_back(hand, red, opening):
    first = mark(hand, red, opening, "pan", with_earlier=True)
    last = mark(hand, red, opening, "set", with_earlier=True, key="later")

    with pytest.raises(StepRestedOn):
        services.take_back_work(by=hand, entry=first, step="pan")
    services.take_back_work(by=hand, entry=last)
    services.take_back_work(by=hand, entry=first, step="pan")

    assert "pan" not in done(opening)
    assert "sill-strip" in done(opening)


def test_two_phones_that_mark_one_step_are_both_kept(hand, foreman, red, opening, sheet):
    step = codes_of(sheet)[0]
    first = mark(hand, red, opening, step)
    mark(foreman, red, opening, step, key="other phone")

    services.take_back_work(by=hand, entry=first)

    assert done(opening) == {step}
    assert done_steps(opening.company, [opening.pk])[opening.pk][step].by == foreman.user


def test_a_step_of_another_method_and_an_opening_that_left_are_refused(hand, red, opening):
    with pytest.raises(StepGone):
        mark(hand, red, opening, "paint it")
    Opening.objects.filter(pk=opening.pk).update(removed_at="2026-06-01T00:00Z")
    with pytest.raises(StepGone):
        mark(hand, red, opening, "check")


def test_another_companys_opening_and_entry_are_not_there(hand, red, opening, sheet):
    entry = mark(hand, red, opening, codes_of(sheet)[0])
    stranger = MembershipFactory(company__code="ELSEWHERE")

    with pytest.raises(NotThere):
        mark(stranger, red, opening, "check", key="theirs")
    with pytest.raises(NotThere):
        services.take_back_work(by=stranger, entry=entry)


def test_the_database_refuses_a_change_and_a_taking_back_of_another_step(hand, red, opening, sheet):
    one, two = codes_of(sheet)[:2]
    entry = mark(hand, red, opening, one, two)
    record = entry.records.get(step=one)
    row = {"company": entry.company, "entry": entry}
    for write in (
        lambda: WorkRecord.objects.filter(pk=record.pk).update(step=two),
        lambda: WorkRecord.objects.filter(pk=record.pk).delete(),
        lambda: WorkEntry.objects.filter(pk=entry.pk).update(day="2026-06-09"),
        lambda: WorkRecord.objects.create(**row, step="pan", takes_back=record),
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            write()


def test_without_the_triggers_the_same_would_pass(hand, red, opening, sheet):
    """Negative control: it is the triggers that refuse."""
    one, two = codes_of(sheet)[:2]
    record = mark(hand, red, opening, one).records.get()

    triggers.remove("default")

    assert WorkRecord.objects.filter(pk=record.pk).update(step=two) == 1


@pytest.mark.django_db(transaction=True)
def test_eight_phones_that_send_one_tap_at_once_make_one_record(hand, red, opening, sheet):
    step = codes_of(sheet)[0]

    def tap(_: int) -> int:
        try:
            return mark(hand, red, opening, step).pk
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as phones:
        entries = set(phones.map(tap, range(8)))

    assert len(entries) == 1
    assert WorkRecord.objects.count() == 1


def test_the_sheet_offers_the_next_step_and_one_tap_marks_it(phone, red, opening, sheet):
    address = reverse("sheet", args=[red.pk, MONDAY])
    page = phone.get(address).content.decode()
    assert "0 of 2 openings done" in page
    first = codes_of(sheet)[0]
    tap = {"key": "k1", "opening": opening.pk, "steps": [first]}

    answer = phone.post(reverse("work-done", args=[red.pk, MONDAY]), tap, follow=True)

    page = answer.content.decode()
    assert answer.redirect_chain == [(address, 302)]
    assert "W1: 1 step is done." in page
    entry = WorkEntry.objects.get()
    back = reverse("work-take-back", args=[entry.pk])
    assert page.count(f'action="{back}"') == 2  # the notice's Undo, and the step's own

    page = phone.post(back, follow=True).content.decode()
    assert "not done after all" in page
    assert done(opening) == set()


def test_a_tap_out_of_turn_is_told_and_can_be_made_with_what_came_before(phone, red, opening):
    tap = {"key": "k1", "opening": opening.pk, "steps": ["pan"]}
    address = reverse("work-done", args=[red.pk, MONDAY])

    answer = phone.post(address, tap)
    assert answer.status_code == 409
    assert "a lap that leaks" in answer.content.decode()
    assert done(opening) == set()

    phone.post(address, {**tap, "key": answer.context["key"], "with_earlier": "1"})
    assert "pan" in done(opening)


def test_an_opening_is_done_when_its_last_step_is(phone, red, opening, sheet):
    tap = {"key": "k1", "opening": opening.pk, "steps": codes_of(sheet)}
    page = phone.post(reverse("work-done", args=[red.pk, MONDAY]), tap, follow=True).content.decode()

    assert "1 of 2 openings done" in page
    assert "all steps done" in page


@pytest.mark.parametrize("sent", [{}, {"key": "k"}, {"key": "k", "opening": "x", "steps": "pan"}])
def test_a_tap_that_cannot_be_read_is_refused_in_words(phone, red, sheet, sent):
    answer = phone.post(reverse("work-done", args=[red.pk, MONDAY]), sent)

    assert answer.status_code == 422
    assert "tap again" in answer.content.decode()
