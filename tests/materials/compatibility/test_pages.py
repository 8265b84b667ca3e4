"""The pages of what fits what: warnings where work is prepared, who may do what, hostile names."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from materials import services
from materials.models import PairTaken, UsedKinds
from tests.access import hostile
from tests.factories.houses import ProjectFactory
from tests.materials.compatibility.building import FITTING
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db
REFUSED, WAITING = ("silicone", "butyl-membrane"), ("silicone", "fibreglass-fin")
KINDS = ("silicone", "butyl-membrane", "fibreglass-fin", "integrated-sheathing")


@pytest.fixture
def site(manager):
    return build(manager)


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def at(name, *arguments):
    return reverse(name, args=arguments)


def read(client, address, **headers):
    answer = client.get(address, headers=headers)
    assert answer.status_code == 200
    return answer.content.decode()


def pages_of(site):
    return [at("house-takeoff", site.house.pk), at("order-week", site.monday)]


def test_takeoff_and_week_say_what_does_not_fit_until_somebody_answers(site, office):
    project = site.house.project
    services.set_kinds(by=site.by, project=project, kinds=KINDS)

    for page in pages_of(site):
        text = read(office, page)
        assert re.search(r'class="refusal">\s*<p><strong>Does not fit on', text)
        assert "Silicone sealant with butyl-faced membrane. Membrane does not stick on silicone" in text
        assert "silicone sealant with fibreglass fin (no entry)" in text
        assert at("project-pairs", project.pk) in text

    for one, other in [REFUSED, WAITING, ("silicone", "integrated-sheathing")]:
        office.post(at("pair-take", project.pk, one, other), {"person": "Wren Idle", "reason": "tried"})

    for page in pages_of(site):
        text = read(office, page)
        assert "Does not fit" not in text
        assert "Not known to fit" not in text


def test_where_nobody_has_said_what_is_used_the_pages_say_so(site, office):
    for page in pages_of(site):
        assert "Nobody has said which sealant, membrane, fin, WRB" in read(office, page)

    services.set_kinds(by=site.by, project=None, kinds=FITTING)

    for page in pages_of(site):
        assert "Nobody has said" not in read(office, page)


def test_the_project_page_names_grade_source_and_who_answers(office, manager, company):
    project = ProjectFactory(company=company)
    services.set_kinds(by=manager, project=project, kinds=["solvent-butyl", "acrylic-membrane"])
    page = at("project-pairs", project.pk)
    assert at("pair-take", project.pk, "solvent-butyl", "acrylic-membrane") in read(office, page)

    told = office.post(
        at("pair-take", project.pk, "solvent-butyl", "acrylic-membrane"),
        {"person": "Wren Idle", "reason": "a film lies between them"},
        follow=True,
    ).content.decode()

    assert "Wren Idle answers for solvent-borne butyl sealant with acrylic-faced membrane." in told
    assert "P, ASTM task-group draft" in told
    assert "a film lies between them" in told
    assert "written down by <bdi>Dana Whitlow</bdi>" in told
    assert "Name somebody" not in told
    assert (
        "answers for these two already"
        in office.get(at("pair-take", project.pk, "solvent-butyl", "acrylic-membrane")).content.decode()
    )


def test_the_project_page_is_a_part_of_the_projects_own(office, manager, company):
    project = ProjectFactory(company=company)

    assert f'hx-get="{at("project-pairs", project.pk)}"' in read(office, at("project", project.pk))
    part = read(office, at("project-pairs", project.pk), **{"HX-Request": "true"})
    assert "<html" not in part
    assert "nobody has said" in part


def test_the_office_ticks_what_is_used_and_sees_it_ticked(office, company):
    project = ProjectFactory(company=company)
    address = at("project-kinds", project.pk)

    saved = office.post(address, {"kinds": list(FITTING)})

    assert (saved.status_code, saved["Location"]) == (302, at("project-pairs", project.pk))
    form = read(office, address)
    assert len(re.findall(r"<input[^>]*\bchecked\b", form)) == 4
    assert len(re.findall(r"<fieldset", form)) == len(re.findall(r"<legend", form)) == 4
    assert UsedKinds.objects.get().kinds == dict.fromkeys(sorted(FITTING), 1)


def test_a_kind_that_is_not_in_the_list_is_refused(office, company):
    project = ProjectFactory(company=company)

    answer = office.post(at("project-kinds", project.pk), {"kinds": ["tar"]})

    assert answer.status_code == 422
    assert UsedKinds.objects.count() == 0


def test_the_second_to_save_reads_both_lists(office, client_of, owner, company):
    project = ProjectFactory(company=company)
    address = at("project-kinds", project.pk)
    office.post(address, {"kinds": ["silicone"]})
    seen = office.get(address).context["form"]["version"].value()
    client_of(owner).post(address, {"kinds": ["stp-hybrid", "vinyl-fin"], "version": seen})

    late = office.post(address, {"kinds": ["polyurethane"], "version": seen})
    again = office.post(
        address, {"kinds": ["polyurethane"], "version": late.context["form"]["version"].value()}
    )

    (difference,) = late.context["differences"]
    assert (late.status_code, again.status_code) == (409, 302)
    assert (difference.theirs, difference.yours) == (
        "STP hybrid sealant, vinyl (PVC) fin",
        "polyurethane sealant",
    )


def test_a_pair_that_is_not_used_there_has_no_page(office, company):
    project = ProjectFactory(company=company)

    assert office.get(at("pair-take", project.pk, *REFUSED)).status_code == 404


def test_the_foreman_reads_and_names_nobody(client_of, foreman, manager, company):
    project = ProjectFactory(company=company)
    services.set_kinds(by=manager, project=project, kinds=KINDS)

    page = read(client_of(foreman), at("project-pairs", project.pk))

    assert "nobody yet" in page
    assert "Name somebody" not in page
    assert "Say what is used" not in page


def test_the_table_shows_every_entry_with_grade_and_source(office):
    page = read(office, at("compatibility"))

    assert page.count("common practice, no source") > 40
    assert "Solvent-borne butyl sealant with butyl-faced membrane" in page


def test_hostile_names_reasons_and_titles_stay_text(office, manager, company):
    project = ProjectFactory(company=company)
    services.set_kinds(by=manager, project=project, kinds=KINDS)
    address = at("pair-take", project.pk, *REFUSED)
    short = [text for text in hostile.ALL if len(text) <= 120]

    for number, text in enumerate(short):
        if number:
            # the kind goes and comes back, so that a name is asked for anew
            services.set_kinds(by=manager, project=project, kinds=KINDS[1:])
            services.set_kinds(by=manager, project=project, kinds=KINDS)
        office.post(address, {"person": text, "reason": text})
        page = hostile.read(read(office, at("project-pairs", project.pk)))
        assert page.faults == [], text
        assert sum(text in shown for shown in page.shown) >= 2, text

    assert PairTaken.objects.count() == len(short) > 40
