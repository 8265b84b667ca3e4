"""What the database itself refuses about crews, whoever writes."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction

from crews import services
from crews.models import Assignment, CrewMember, DayPlan
from projects.models import UNPLACED
from tests.factories.crews import MONDAY, AssignmentFactory, CrewFactory, crew_of, face_of, house_with
from tests.factories.houses import ElevationFactory

pytestmark = pytest.mark.django_db


def refused(write):
    with pytest.raises(IntegrityError), transaction.atomic():
        write()


def test_an_elevation_has_one_crew_a_day(company):
    face = ElevationFactory(house__project__company=company)
    AssignmentFactory(crew=CrewFactory(company=company), elevation=face)

    refused(lambda: AssignmentFactory(crew=CrewFactory(company=company), elevation=face))

    assert Assignment.objects.count() == 1


def test_a_crew_is_at_one_elevation_at_a_time(company):
    crew = CrewFactory(company=company)
    AssignmentFactory(crew=crew, elevation=ElevationFactory(house__project__company=company), position=0)

    refused(
        lambda: AssignmentFactory(
            crew=crew, elevation=ElevationFactory(house__project__company=company), position=0
        )
    )


@pytest.mark.parametrize("place", ["unplaced", "house", "project"])
def test_nobody_is_sent_to_what_is_unplaced_or_archived(company, place):
    face = ElevationFactory(house__project__company=company)
    good = AssignmentFactory(
        crew=CrewFactory(company=company), elevation=ElevationFactory(house__project__company=company)
    )
    if place == "unplaced":
        face.name = UNPLACED
        face.save()
    else:
        row = face.house if place == "house" else face.house.project
        row.archived = True
        row.save()

    refused(lambda: AssignmentFactory(crew=CrewFactory(company=company), elevation=face))
    refused(lambda: Assignment.objects.filter(pk=good.pk).update(elevation=face))

    assert Assignment.objects.count() == 1


def test_an_archived_crew_is_sent_nowhere(company):
    away = CrewFactory(company=company, archived=True)
    face = ElevationFactory(house__project__company=company)
    good = AssignmentFactory(crew=CrewFactory(company=company), elevation=face)

    refused(lambda: AssignmentFactory(crew=away, elevation=ElevationFactory(house__project__company=company)))
    refused(lambda: Assignment.objects.filter(pk=good.pk).update(crew=away))


def test_a_crew_works_in_its_own_company_only(company, stranger):
    face = ElevationFactory(house__project__company=stranger.company)

    refused(lambda: AssignmentFactory(crew=CrewFactory(company=company), elevation=face))


def test_a_made_plan_is_never_changed_or_deleted(foreman, company):
    crew = crew_of(company)
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house_with(company)), day=MONDAY)
    plan = services.plan_day(by=foreman, crew=crew, day=MONDAY)

    refused(lambda: DayPlan.objects.filter(pk=plan.pk).update(status="none"))
    refused(lambda: DayPlan.objects.filter(pk=plan.pk)._raw_delete("default"))

    assert DayPlan.objects.get().status == "whole"


def test_a_day_without_time_to_work_is_no_crew(company):
    refused(lambda: CrewFactory(company=company, day_start_min=420, day_end_min=525))


def test_a_burden_above_two_hundred_percent_is_nobodys(company):
    refused(
        lambda: CrewMember.objects.create(
            company=company, crew=CrewFactory(company=company), name="Nell", burden_percent=201
        )
    )
