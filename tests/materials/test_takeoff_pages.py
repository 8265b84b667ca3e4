"""The takeoff pages of a house and of a project."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from materials.services.rollups import keep_roll_ups
from openings import services
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.openings import INCH, OpeningFactory


@pytest.fixture
def project(company):
    return ProjectFactory(company=company)


@pytest.fixture
def signed_in(client, manager):
    client.force_login(manager.user)
    return client


def house_of(project, *, openings=1, **fields):
    """Return a house with so many openings of 36 x 60, all on one face."""
    house = HouseFactory(project=project)
    OpeningFactory.create_batch(openings, house=house, elevation=ElevationFactory(house=house), **fields)
    return house


def cells_of(page, house):
    """Return the cells of the house's line in the page's list."""
    line = re.search(rf"<tr>\s*<th[^>]*><a[^>]*><bdi>{house.code}</bdi>.*?</tr>", page, re.DOTALL).group()
    return [re.sub("<[^>]*>", "", cell) for cell in re.findall("<td.*?</td>", line)]


def test_a_project_lists_what_each_house_comes_to(signed_in, project):
    one, two = house_of(project), house_of(project, openings=2, corners="open")

    page = signed_in.get(reverse("project-takeoff", args=[project.pk])).content.decode()

    # openings, 9 in rolls, 12 in rolls, tubes, fasteners, patches; an opening of 36 x 60 takes 2.304 tubes
    # and 20 fasteners (see test_rollup and test_fasteners), open corners 4 patches
    assert cells_of(page, one) == ["1", "1", "1", "3", "20", "0"]
    assert cells_of(page, two) == ["2", "1", "1", "5", "40", "8"]


def test_a_project_counts_what_cannot_be_taken_off(signed_in, project):
    house = house_of(project, openings=2, pan="membrane", wall_depth_nm=24 * INCH)
    OpeningFactory(house=house, elevation=house.elevations.get())

    page = signed_in.get(reverse("project-takeoff", args=[project.pk])).content.decode()

    assert cells_of(page, house)[0] == "3, 2 not taken off"


def test_a_house_says_why_an_opening_is_not_taken_off(signed_in, project):
    house = house_of(project, mark="W7", pan="membrane", wall_depth_nm=24 * INCH)

    page = signed_in.get(reverse("house-takeoff", args=[house.pk])).content.decode()

    assert "W7: The pan needs membrane" in page


def test_a_strip_longer_than_a_roll_is_told_on_both_pages(signed_in, owner, project):
    house = house_of(project)
    services.set_specification(by=owner, project=project, settings={"roll_length": "50"})

    for address in (reverse("house-takeoff", args=[house.pk]), reverse("project-takeoff", args=[project.pk])):
        page = signed_in.get(address)
        assert page.status_code == 200
        assert "Choose a longer roll" in page.content.decode()


def test_a_project_without_openings_offers_what_comes_first(signed_in, project):
    HouseFactory(project=project)

    page = signed_in.get(reverse("project-takeoff", args=[project.pk])).content.decode()

    assert "There are no openings to take off yet." in page


@pytest.mark.parametrize("houses", [1, 20])
@pytest.mark.parametrize("kept", [True, False])
def test_a_projects_takeoff_takes_the_same_queries_at_any_size(
    signed_in, company, project, django_assert_max_num_queries, houses, kept
):
    for _ in range(houses):
        house_of(project)
    if kept:
        keep_roll_ups(company=company)

    with django_assert_max_num_queries(14) as queries:
        signed_in.get(reverse("project-takeoff", args=[project.pk]))

    # two of them say what fits
    assert len(queries) == (13 if kept else 14)


@pytest.mark.parametrize("openings", [1, 20])
def test_a_houses_takeoff_takes_the_same_queries_at_any_size(
    signed_in, project, django_assert_max_num_queries, openings
):
    house = house_of(project, openings=openings)

    with django_assert_max_num_queries(14) as queries:
        signed_in.get(reverse("house-takeoff", args=[house.pk]))

    assert len(queries) == 13
