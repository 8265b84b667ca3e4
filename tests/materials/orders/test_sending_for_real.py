"""An order goes over the wire to a mail server and is read there; refused, it can be sent again."""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials.documents import order_file, order_pdf
from materials.models import PurchaseOrder, SentOrder
from materials.selectors.orders import order_of
from projects.models import Company, Job
from projects.tasks import run_job
from tests.materials.orders.mail_server import a_mail_server, point_at
from tests.materials.orders.test_sending import TO, issued, parts, reached_at, sent
from tests.materials.orders.web import free_port

pytestmark = pytest.mark.django_db
AWAY = "The mail server did not take the message. Try again; if it stays so, check EMAIL_URL."
REFUSED = f"The mail server refused {TO}. Correct it under Suppliers and prices, then send."
NAME = "Fenêtres Łódź, Ltd; שלום 窓"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    settings.DEFAULT_FROM_EMAIL = "desk@setters.example"


@pytest.fixture
def post(settings, monkeypatch):
    with a_mail_server() as post:
        point_at(settings, post.port, monkeypatch)
        yield post


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def test_the_supplier_reads_what_was_sent_byte_for_byte(site, post):
    Company.objects.update(name=NAME)
    site.by.company.refresh_from_db()
    order = issued(site)

    job = sent(site, order)

    shown = order_of(order.company, order.pk)
    (letter,) = post.letters
    assert (job.state, job.error) == ("done", "")
    assert post.senders == ["desk@setters.example"]
    assert post.recipients == [[TO]]
    # a long encoded word stands on a line of its own, after a space that readers leave out
    assert letter["Subject"].strip() == f"Order {order.number} from {NAME}"
    assert [(each.display_name, each.addr_spec) for each in letter["From"].addresses] == [
        (NAME, "desk@setters.example")
    ]
    assert [each.addr_spec for each in letter["Reply-To"].addresses] == ["dana@setters.example"]
    # a name of another script goes as encoded words: nothing but ASCII in the head (RFC 5322, 2.2)
    assert post.messages[0].partition(b"\r\n\r\n")[0].isascii()
    assert f"Purchase order {order.number} from {NAME}" in letter.get_body().get_content()
    assert parts(letter) == {
        f"order-{order.number}.pdf": order_pdf(shown).content,
        f"order-{order.number}.xml": order_file(shown, "xml").content,
    }
    assert SentOrder.objects.get().by_server


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        ({"RCPT": "550 5.1.1 no such mailbox"}, REFUSED),
        ({"RCPT": "450 4.2.0 greylisted, come back later"}, AWAY),
        ({"DATA": "554 5.7.1 refused as junk"}, AWAY),
        ({"DATA": "452 4.3.1 mailbox full"}, AWAY),
    ],
)
def test_a_refused_order_stays_issued_and_is_sent_again(site, post, office, answers, told):
    order = issued(site)
    post.answers = answers
    office.post(reverse("order-send", args=[order.pk]))
    job = Job.objects.get(kind="order-send")

    run_job(job.pk)
    job.refresh_from_db()
    page = office.get(reverse("order", args=[order.pk])).content.decode()

    assert (job.state, job.error) == ("failed", told)
    assert post.messages == []
    assert not SentOrder.objects.exists()
    assert (PurchaseOrder.objects.get().number, order_of(order.company, order.pk).state) == (
        order.number,
        "issued",
    )
    assert told in page
    assert f'action="{reverse("job-retry", args=[job.pk])}"' in page

    post.answers = {}
    office.post(reverse("job-retry", args=[job.pk]))
    run_job(job.pk)

    assert len(post.messages) == 1
    assert SentOrder.objects.get().to == TO
    assert f"Sent to <bdi>{TO}</bdi>" in office.get(reverse("order", args=[order.pk])).content.decode()


def test_a_server_that_is_away_leaves_the_order_issued_and_is_tried_again(
    site, office, settings, monkeypatch
):
    point_at(settings, free_port(), monkeypatch)  # nobody listens there
    order = issued(site)

    job = sent(site, order)

    assert (job.state, job.error) == ("failed", AWAY)
    assert order_of(order.company, order.pk).state == "issued"
    assert not SentOrder.objects.exists()

    with a_mail_server() as post:
        point_at(settings, post.port, monkeypatch)
        office.post(reverse("job-retry", args=[job.pk]))
        run_job(job.pk)
    assert post.recipients == [[TO]]


def test_a_corrected_address_gets_the_order_that_the_first_one_did_not(site, post):
    order = issued(site)
    post.answers = {"RCPT": "550 5.1.1 no such mailbox"}
    sent(site, order)
    post.answers = {}
    reached_at(site, "desk@thistle.example")
    order.refresh_from_db()  # with its supplier

    sent(site, order)

    assert post.recipients == [["desk@thistle.example"]]
    assert SentOrder.objects.get().to == "desk@thistle.example"
