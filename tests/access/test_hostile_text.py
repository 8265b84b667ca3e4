"""R25: marks, notes, names and files' names are text on every page, whatever they say."""

from __future__ import annotations

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.template import Context, Template
from django.test import Client

from materials.documents import order_sheet
from materials.models import PurchaseOrder
from materials.selectors.orders import order_of
from openings.models import Opening
from tests.access import hostile, matrix
from tests.access.world import MAKERS, world
from tests.factories.houses import ElevationFactory
from tests.factories.openings import OpeningFactory
from tests.factories.people import MembershipFactory

pytestmark = pytest.mark.django_db
PAGES = [row for row in matrix.rows() if row.method == "GET" and row.expected["owner"] == 200]


def owner_of(there):
    client = Client()
    client.force_login(there.people["owner"].user)
    return client


def hostile_world(first=0):
    """Return a world with one of everything, each text of it hostile."""
    there = world()
    for name in MAKERS:
        there.thing(name)
    written = hostile.write_everywhere(there.company, first)
    return there, written


@pytest.mark.parametrize("first", [0, 7, 23])
def test_hostile_text_stays_text_on_every_page(first):
    there, written = hostile_world(first)
    client = owner_of(there)
    seen = set()

    for row in PAGES:
        address = row.address(there)
        for headers in ({}, {"HX-Request": "true"}):
            answer = client.get(address, headers=headers)
            if answer.get("Content-Type", "").startswith("text/html"):
                page = hostile.read(answer.content.decode())
                assert page.faults == [], address
                seen |= {text for text in written if any(text in shown for shown in page.shown)}

    # the pages did show them: most of what was written is read somewhere
    assert len(seen) > len(written) / 2


def test_every_hostile_mark_is_shown_as_typed_on_its_pages():
    there = world()
    face = ElevationFactory(house=there.thing("house"))
    client = owner_of(there)
    openings = {
        text: OpeningFactory(house=face.house, elevation=face, mark=text[:64], note=text)
        for text in hostile.ALL
    }

    house = hostile.read(client.get(f"/houses/{face.house_id}/").content.decode())
    elevation = hostile.read(client.get(f"/elevations/{face.pk}/").content.decode())

    assert house.faults == elevation.faults == []
    for text, opening in openings.items():
        page = hostile.read(client.get(f"/openings/{opening.pk}/").content.decode())
        form = hostile.read(client.get(f"/openings/{opening.pk}/edit/").content.decode())
        assert page.faults == form.faults == [], text
        for shown in (house, page, form):
            assert any(text[:64] in one for one in shown.shown), text


def test_a_mark_of_angle_brackets_is_drawn_as_typed():
    """A drawing cuts a long mark off where it has no room, so a short one shows that it is text there too."""
    there = world()
    opening = OpeningFactory(house__project__company=there.company, mark='<b>&"', ro_width_nm=72 * 25_400_000)

    page = hostile.read(owner_of(there).get(f"/elevations/{opening.elevation_id}/").content.decode())

    assert page.faults == []
    assert '<b>&"' in page.shown


def test_hostile_names_of_people_are_shown_as_typed():
    there = world()
    for number, text in enumerate(hostile.ALL):
        member = MembershipFactory(company=there.company, user__email=f"p{number}@setters.example")
        type(member.user)._default_manager.filter(pk=member.user.pk).update(name=text)

    page = hostile.read(owner_of(there).get("/people/").content.decode())

    assert page.faults == []
    assert all(any(text in one for one in page.shown) for text in hostile.ALL)


@pytest.mark.parametrize("text", hostile.ALL)
def test_what_is_typed_or_sent_comes_back_as_text(text):
    """A search, a refused entry, a notice after saving, a file's name, header and cells."""
    there = world()
    client = owner_of(there)
    house = there.thing("house")
    saved = {"code": "NEW", "name": text, "builder": text, "delivery_place": text}
    quoted = text.replace('"', '""')
    schedule = f'elevation,mark,unit_width,"{quoted}"\nFront,"{quoted}","{quoted}",60\n'.encode()

    answers = [
        client.get("/projects/", {"q": text}),
        client.post("/projects/new/", {**saved, "code": text}),
        client.post("/projects/new/", saved, follow=True),
        client.post(
            f"/houses/{house.pk}/openings/new/", {"mark": "W1", "elevation": text, "unit_width": text}
        ),
        client.post(
            f"/houses/{house.pk}/schedule/",
            {"schedule": SimpleUploadedFile(f"{re.sub('[/]', '', text)}.csv", schedule)},
            follow=True,
        ),
    ]

    for answer in answers:
        page = hostile.read(answer.content.decode())
        assert answer.status_code in {200, 422}
        assert page.faults == []
        assert any(hostile.HIT in shown for shown in page.shown)


def test_the_order_document_holds_hostile_names_as_text():
    there, _ = hostile_world()
    order = PurchaseOrder.objects.of(there.company).get(number=None)

    page = hostile.read(order_sheet(order_of(there.company, order.pk)))

    assert page.faults == []
    assert any(hostile.HIT in shown for shown in page.shown)


@pytest.mark.parametrize("text", hostile.STRINGS)
def test_a_template_that_trusts_its_text_would_be_seen(text):
    """The negative control: the same strings where a template says that they are safe."""
    trusting = Template(
        "<p title=\"{{ x|safe }}\">{{ x|safe }}</p><a title='{{ x|safe }}'>x</a><title>{{ x|safe }}</title>"
    )
    careful = Template("<p title=\"{{ x }}\">{{ x }}</p><a title='{{ x }}'>x</a><title>{{ x }}</title>")

    assert hostile.read(trusting.render(Context({"x": text}))).faults
    assert hostile.read(careful.render(Context({"x": text}))).faults == []


def test_an_address_made_of_text_would_be_seen():
    """The negative control for whole values: escaping alone does not help in an address."""
    for text in hostile.VALUES:
        page = hostile.read(Template('<a href="{{ x }}">x</a>').render(Context({"x": text})))
        assert page.faults, text


def test_every_text_that_people_type_is_tried():
    there, written = hostile_world()

    assert Opening.objects.of(there.company).filter(mark__contains=hostile.HIT).exists()
    assert len(written) > 30
