"""What a crew used on its day: proposed from what is marked done, corrected, booked at the house."""

from __future__ import annotations

import pytest
from django.urls import reverse

from crews import services
from crews.selectors.sheets import sheet_page
from crews.selectors.using import use_page
from materials import services as materials
from materials.models import Movement
from materials.selectors.demand import openings_demand
from openings.models import Opening
from tests.factories.crews import MONDAY, crew_of, face_of, fine_day, house_with
from tests.materials.stock.building import TUBE, tubes

pytestmark = pytest.mark.django_db


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def house(foreman, manager, company, red):
    """RED's house with two openings planned, and twelve tubes and forty patches in the shop."""
    fine_day(company)
    made = house_with(company, "Front,W1,36,60,24,36,sealed", "Front,W2,24,36,120,36,sealed", code="LOT-1")
    services.assign_crew(by=foreman, crew=red, elevation=face_of(made), day=MONDAY)
    services.plan_day(by=foreman, crew=red, day=MONDAY)
    tubes(manager, 12)
    materials.add_stock(by=manager, material="shims", pack="", packs=400, key="shims")
    return made


@pytest.fixture
def phone(client, foreman):
    client.force_login(foreman.user)
    return client


def finish(by, red, mark):
    opening = Opening.objects.get(mark=mark)
    work = sheet_page(by.company, red.pk, MONDAY).work
    (visit,) = [each for each in work.visits if each.visit.opening == opening.pk]
    services.mark_done(
        by=by, crew=red, day=MONDAY, opening=opening, steps=visit.open_codes, key=f"done-{mark}"
    )
    return opening


def proposed(company, red):
    (house,) = use_page(company, red.pk, MONDAY).houses
    return {line.material: line.proposed for line in house.lines}


def test_before_anything_is_done_nothing_is_proposed(company, red, house):
    assert set(proposed(company, red).values()) == {0}


def test_an_opening_that_is_done_proposes_what_it_needs(company, foreman, red, house):
    opening = finish(foreman, red, "W1")

    (demand,) = openings_demand(company, [opening.pk], MONDAY)
    need = {each.material.key: each.quantity for each in demand.needs}
    assert proposed(company, red)["shims"] == need["shims"] > 0
    # a tube that is opened is used
    assert proposed(company, red)["sealant"] == -(-need["sealant"] // TUBE) > 0


def test_what_is_corrected_is_booked_at_the_house_and_proposed_no_more(phone, company, red, foreman, house):
    finish(foreman, red, "W1")
    address = reverse("crew-used", args=[red.pk, MONDAY])
    page = phone.get(address)
    ((_, form),) = page.context["forms"]
    sent = {"house": house.pk, "key": form.initial["key"], f"pieces-sealant-{TUBE}": 7}

    for _ in range(2):
        answer = phone.post(address, sent)
        assert answer.headers["Location"] == reverse("house-stock", args=[house.pk])

    used = Movement.objects.filter(kind="use", place__house=house)
    assert [line.quantity for line in used] == [-7 * TUBE]
    assert proposed(company, red)["sealant"] == 0
    assert "RED, " in used.get().reason


def test_more_than_is_there_is_refused_at_its_field_and_kept(phone, red, foreman, house):
    address = reverse("crew-used", args=[red.pk, MONDAY])

    answer = phone.post(address, {"house": house.pk, "key": "k", f"pieces-sealant-{TUBE}": 13})

    assert answer.status_code == 409
    page = answer.content.decode()
    assert "Only 12 of Window sealant lie there" in page
    assert 'value="13"' in page
    assert not Movement.objects.filter(kind="use").exists()


def test_an_empty_form_and_a_house_of_another_day_are_refused(phone, company, red, house):
    address = reverse("crew-used", args=[red.pk, MONDAY])

    assert phone.post(address, {"house": house.pk, "key": "k"}).status_code == 422
    other = house_with(company, code="LOT-2")
    assert phone.post(address, {"house": other.pk, "key": "k"}).status_code == 404


@pytest.mark.parametrize("windows", [1, 12])
def test_the_page_takes_the_same_queries_at_any_size(
    phone, company, foreman, red, django_assert_num_queries, windows
):
    fine_day(company)
    rows = [f"Front,W{number},36,60,{24 + 60 * number},36,sealed" for number in range(windows)]
    made = house_with(company, *rows)
    services.assign_crew(by=foreman, crew=red, elevation=face_of(made), day=MONDAY)
    services.plan_day(by=foreman, crew=red, day=MONDAY)
    finish(foreman, red, "W0")
    address = reverse("crew-used", args=[red.pk, MONDAY])
    phone.get(address)

    with django_assert_num_queries(11):
        phone.get(address)
