"""The owner's pages of cost: per opening, per house, per month, and which houses need a look."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from crews import services
from openings.models import Opening
from tests.crews.test_costs import MEMBRANES, sell
from tests.factories.crews import MONDAY, crew_of, face_of, house_with

pytestmark = pytest.mark.django_db


@pytest.fixture
def boss(client, owner):
    client.force_login(owner.user)
    return client


@pytest.fixture
def house(company, owner):
    crew = crew_of(company, "RED")
    sell(company, MEMBRANES)
    made = house_with(company, "Front,W1,36,60,,,", "Front,W2,24,36,,,sealed")
    services.assign_crew(by=owner, crew=crew, elevation=face_of(made), day=MONDAY)
    return made


def text_of(answer):
    return answer.content.decode()


def amounts(page):
    return [round(float(found.replace(",", "")) * 100) for found in re.findall(r"\$([\d,]+\.\d\d)", page)]


def test_any_openings_cost_is_two_clicks_from_the_first_page(boss, house, time_machine):
    time_machine.move_to("2026-06-10 12:00")
    first = text_of(boss.get("/"))
    assert f'href="{reverse("costs")}"' in first

    costs = text_of(boss.get(reverse("costs")))
    address = reverse("house-costs", args=[house.pk])
    assert f'href="{address}"' in costs

    # the house's page shows every opening's cost, with version and day
    page = text_of(boss.get(address))
    for mark in ("W1", "W2"):
        assert f">{mark}<" in page
    assert "Specification" in page
    assert "prices of 10 Jun 2026" in page


def test_shown_openings_sum_to_the_shown_house(boss, house):
    page = text_of(boss.get(reverse("house-costs", args=[house.pk]), headers={"HX-Request": "true"}))

    # two rows of material, labour, other, opening; then the house; then the mean
    shown = amounts(page)
    assert shown[3] + shown[7] == shown[8]
    assert "<html" not in page


def test_an_opening_shows_every_line_with_quantity_rate_and_reason(boss, house):
    row = Opening.objects.get(mark="W1")

    page = text_of(boss.get(reverse("opening-costs", args=[row.pk])))

    # 22 ft of 9 in membrane at 42.00 / 75
    assert "22 ft" in page
    assert "0.5600 a ft" in page
    assert "4 pieces cut to length" in page
    assert "8 min x 2" in page


def test_a_removed_opening_has_no_cost(boss, house, time_machine):
    row = Opening.objects.get(mark="W1")
    Opening.objects.filter(pk=row.pk).update(removed_at="2026-06-01T00:00Z")

    assert boss.get(reverse("opening-costs", args=[row.pk])).status_code == 404


def test_the_parts_of_the_first_page_come_by_themselves(boss, house, time_machine):
    time_machine.move_to("2026-06-10 12:00")
    for name in ("home-costs", "home-look"):
        part = text_of(boss.get(reverse(name), headers={"HX-Request": "true"}))
        assert "<html" not in part
        whole = text_of(boss.get(reverse(name)))
        assert "<html" in whole

    assert "Per opening in June" in text_of(boss.get(reverse("home-costs")))
    assert "Window sealant has no price" in text_of(boss.get(reverse("home-look")))


def test_rents_are_set_and_every_cost_follows(boss, house):
    face_of(house).__class__.objects.filter(house=house).update(access="lift")
    before = text_of(boss.get(reverse("house-costs", args=[house.pk])))

    entry = {"ladder": "0", "lift": "300", "source": "Rental sheet 2026", "version": "1"}
    answer = boss.post(reverse("rentals"), entry)

    assert answer.status_code == 302
    after = text_of(boss.get(reverse("house-costs", args=[house.pk])))
    # a lift's day goes from 165.00 to 300.00
    assert amounts(after)[8] - amounts(before)[8] == 13500


def test_only_what_differs_is_shown_to_the_second_who_saves_rents(boss, house):
    entry = {"ladder": "14.00", "lift": "165.00", "source": "Rental sheet 2026", "version": "1"}
    boss.post(reverse("rentals"), entry)

    answer = boss.post(reverse("rentals"), {**entry, "ladder": "15"})

    assert answer.status_code == 409
    told = [(each.label, each.theirs, each.yours) for each in answer.context["differences"]]
    assert told == [("Ladder, a day", "14.00", "15")]


def test_a_company_without_houses_is_told_what_comes_first(boss):
    assert "No house has openings yet" in text_of(boss.get(reverse("costs")))
    assert "No house needs a look" in text_of(boss.get(reverse("home-look")))
