"""The pages of projects and houses, as a person meets them."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils.html import conditional_escape

from projects.models import AuditEntry, House, Project
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory

pytestmark = pytest.mark.django_db
PROJECT = {"code": "ALDER", "name": "Alder Row", "builder": "Teasel Homes"}
HOSTILE = [
    "<img src=x onerror=alert(1)>",
    '"><svg/onload=alert(1)>',
    "{{7*7}}",
    "javascript:alert(1)",
    "'-alert(1)-'",
    "</script><script>alert(1)</script>",
    "<bdi>%s&lt;",
    "\u202eeniw\u202c",
]


@pytest.fixture
def office(client, manager):
    client.force_login(manager.user)
    return client


def test_an_empty_list_offers_the_first_project(office):
    page = office.get("/projects/").content.decode()

    assert "Set up the first project" in page


def test_an_empty_project_offers_the_first_house(office, company):
    project = ProjectFactory(company=company)

    page = office.get(f"/projects/{project.pk}/").content.decode()

    assert "Set up the first house" in page


def test_a_foreman_is_not_offered_what_he_may_not_do(client, foreman):
    client.force_login(foreman.user)

    page = client.get("/projects/").content.decode()

    assert "The office sets up the first one." in page
    assert "New project" not in page


def test_a_new_project_is_kept_with_its_audit_row(office, company, manager):
    answer = office.post("/projects/new/", {**PROJECT, "delivery_place": "East gate"})

    project = Project.objects.of(company).get()
    assert answer.headers["Location"] == f"/projects/{project.pk}/"
    assert (project.code, project.name, project.delivery_place) == ("ALDER", "Alder Row", "East gate")
    entry = AuditEntry.objects.of(company).get()
    assert (entry.action, entry.user, entry.subject_id) == ("create project", manager.user, project.pk)
    assert len(entry.request_id) == 16


def test_an_empty_form_says_what_to_fill_in(office, company):
    answer = office.post("/projects/new/", {"name": "Alder Row"})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert '<a href="#id_code">Project code is empty. Fill it in.</a>' in page
    assert 'value="Alder Row"' in page
    assert 'aria-invalid="true"' in page
    assert not Project.objects.of(company).exists()


def test_a_code_that_is_taken_is_said_at_its_field(office, company):
    ProjectFactory(company=company, code="alder")

    answer = office.post("/projects/new/", PROJECT)

    assert answer.status_code == 422
    assert (
        '<a href="#id_code">Project code ALDER is already used. Choose another.</a>'
        in answer.content.decode()
    )
    assert Project.objects.of(company).count() == 1


@pytest.mark.parametrize("code", ["LOT 12", "-LOT", "LOT,12", "LÖT", "a/b"])
def test_a_code_that_commands_cannot_take_is_refused(office, company, code):
    answer = office.post("/projects/new/", {**PROJECT, "code": code})

    assert answer.status_code == 422
    assert "Use letters, digits, hyphens and points, such as LOT-12." in answer.content.decode()
    assert not Project.objects.of(company).exists()


@pytest.mark.parametrize("name", ["a\x00b", "a\nb", "a\x07b"])
def test_control_characters_are_refused(office, company, name):
    answer = office.post("/projects/new/", {**PROJECT, "name": name})

    assert answer.status_code == 422
    assert not Project.objects.of(company).exists()


def test_a_project_like_another_starts_from_its_builder(office, company):
    model = ProjectFactory(company=company, builder="Burdock & Daughters")

    page = office.get(f"/projects/new/?like={model.pk}").content.decode()

    assert 'value="Burdock &amp; Daughters"' in page


def test_a_project_of_another_company_is_no_model(office):
    assert office.get(f"/projects/new/?like={ProjectFactory().pk}").status_code == 404


def test_two_edits_of_one_project_show_both_values(office, company, owner, client_of):
    project = ProjectFactory(company=company, **PROJECT)
    edit = {**PROJECT, "version": "1"}
    client_of(owner).post(f"/projects/{project.pk}/edit/", {**edit, "name": "Alder Terrace"})

    late = office.post(f"/projects/{project.pk}/edit/", {**edit, "name": "Alder Yard"})

    page = late.content.decode()
    assert late.status_code == 409
    assert "Odalys Brandt changed Alder Terrace at" in page
    assert "<td><bdi>Alder Terrace</bdi></td><td><bdi>Alder Yard</bdi></td>" in page
    assert 'value="Alder Yard"' in page
    project.refresh_from_db()
    assert (project.name, project.version) == ("Alder Terrace", 2)


def test_saving_again_after_seeing_both_values_wins(office, company, owner, client_of):
    project = ProjectFactory(company=company, **PROJECT)
    edit = {**PROJECT, "version": "1"}
    client_of(owner).post(f"/projects/{project.pk}/edit/", {**edit, "name": "Alder Terrace"})
    late = office.post(f"/projects/{project.pk}/edit/", {**edit, "name": "Alder Yard"})
    shown = late.context["form"].data["version"]

    office.post(f"/projects/{project.pk}/edit/", {**edit, "name": "Alder Yard", "version": shown})

    project.refresh_from_db()
    assert (project.name, project.version) == ("Alder Yard", 3)


def test_a_form_that_lost_its_version_does_not_win(office, company):
    project = ProjectFactory(company=company, **PROJECT)

    answer = office.post(f"/projects/{project.pk}/edit/", {**PROJECT, "name": "Alder Yard"})

    project.refresh_from_db()
    assert (answer.status_code, project.name) == (409, "Alder Row")


def test_saving_without_a_change_writes_nothing(office, company):
    project = ProjectFactory(company=company, **PROJECT)
    form = office.get(f"/projects/{project.pk}/edit/").context["form"]

    office.post(f"/projects/{project.pk}/edit/", form.initial)

    project.refresh_from_db()
    assert project.version == 1
    assert not AuditEntry.objects.of(company).exists()


def test_archiving_offers_the_way_back(office, company):
    project = ProjectFactory(company=company)

    page = office.post(f"/projects/{project.pk}/archive/", follow=True).content.decode()
    project.refresh_from_db()
    assert project.archived
    assert f'action="/projects/{project.pk}/restore/"' in page

    office.post(f"/projects/{project.pk}/restore/")
    project.refresh_from_db()
    assert not project.archived


def test_an_archived_project_takes_no_house(office, company):
    project = ProjectFactory(company=company, archived=True)

    answer = office.post(f"/projects/{project.pk}/houses/new/", {"code": "LOT-1", "name": "Lot 1"})

    assert answer.status_code == 409
    assert "is archived. Restore it first." in answer.content.decode()
    assert not House.objects.of(company).exists()


def test_a_new_house_belongs_to_its_project(office, company):
    project = ProjectFactory(company=company)

    office.post(f"/projects/{project.pk}/houses/new/", {"code": "LOT-1", "name": "Lot 1", "pre_1978": "on"})

    house = House.objects.of(company).get()
    assert (house.project, house.code, house.pre_1978) == (project, "LOT-1", True)


def test_an_archived_house_is_listed_apart(office, company):
    house = HouseFactory(project__company=company, code="LOT-1")
    office.post(f"/houses/{house.pk}/archive/")

    live = office.get(f"/projects/{house.project_id}/").content.decode()
    put_away = office.get(f"/projects/{house.project_id}/?archived=yes").content.decode()

    assert "LOT-1" not in live.split('id="rows"')[1]
    assert "LOT-1" in put_away.split('id="rows"')[1]


def test_searching_finds_projects_by_builder(office, company):
    ProjectFactory(company=company, name="Alder Row", builder="Teasel Homes")
    ProjectFactory(company=company, name="Tarn Hill", builder="Burdock & Daughters")

    page = office.get("/projects/?q=burdock").content.decode()

    assert "Tarn Hill" in page
    assert "Alder Row" not in page


@pytest.mark.parametrize("search", ["%", "_", "' OR 1=1 --", "x" * 10_000, "\x00"])
def test_no_search_breaks_or_matches_everything(office, company, search):
    ProjectFactory(company=company)

    answer = office.get("/projects/", {"q": search})

    assert answer.status_code == 200
    assert search == "\x00" or "Alder Row" not in answer.content.decode().split('id="rows"')[1]


@pytest.mark.parametrize("page", ["-1", "0", "99", "x", "1e9"])
def test_a_page_that_is_not_there_is_a_404(office, page):
    assert office.get("/projects/", {"page": page}).status_code == 404


def test_the_filter_gets_only_the_rows(office, company):
    ProjectFactory(company=company)

    part = office.get("/projects/", headers={"HX-Request": "true", "HX-Target": "rows"}).content.decode()
    back = office.get("/projects/", headers={"HX-Request": "true", "HX-History-Restore-Request": "true"})

    assert part.lstrip().startswith('<div id="rows"')
    assert back.content.decode().startswith("<!doctype html>")


@pytest.mark.parametrize("name", HOSTILE)
def test_names_are_shown_as_typed_on_every_page(office, company, name):
    project = ProjectFactory(company=company, name=name, builder=name, delivery_place=name)
    house = HouseFactory(project=project, name=name, plan_name=name)
    pages = [
        "/projects/",
        f"/projects/{project.pk}/",
        f"/projects/{project.pk}/edit/",
        f"/houses/{house.pk}/edit/",
    ]

    shown = [office.get(page).content.decode() for page in pages]
    shown.append(office.post(f"/projects/{project.pk}/archive/", follow=True).content.decode())

    for page in shown:
        if "<" in name:
            assert name not in page
        assert conditional_escape(name) in page


def test_the_lists_take_the_same_queries_for_many_rows(office, company):
    def count(address):
        with CaptureQueriesContext(
            connection,
        ) as queries:
            assert office.get(address).status_code == 200
        return len(queries)

    project = ProjectFactory(company=company)
    ElevationFactory(house__project=project)
    office.get("/projects/")
    one = [count("/projects/"), count(f"/projects/{project.pk}/")]
    for _ in range(20):
        ElevationFactory(house__project=project)
        ProjectFactory(company=company)
    many = [count("/projects/"), count(f"/projects/{project.pk}/")]

    assert one == many
    assert max(many) <= 15
