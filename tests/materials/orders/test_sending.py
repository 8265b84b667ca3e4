"""Sending an order: once per address, with what is attached, written down with who, when and to whom."""

from __future__ import annotations

from datetime import UTC, datetime
from email import message_from_bytes, policy
from smtplib import SMTPServerDisconnected

import pytest
import time_machine
from django.core import mail
from django.core.mail.backends import locmem
from django.db import IntegrityError, transaction
from django.utils import timezone

from materials import services
from materials.documents import order_file, order_pdf
from materials.errors import NotIssued, OrderMoved
from materials.models import SentOrder
from materials.selectors.orders import order_of
from projects import jobs
from projects.errors import BadValue, NotAllowed, NotThere
from projects.models import AuditEntry, Job
from projects.tasks import run_job
from tests.materials.orders.building import issue

pytestmark = pytest.mark.django_db
TO = "orders@thistle.example"
FOLDER = "django.core.mail.backends.filebased.EmailBackend"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    settings.DEFAULT_FROM_EMAIL = "desk@setters.example"


def reached_at(site, address=TO):
    """Give the supplier an address."""
    told = {"code": "THISTLE", "name": "Thistle Supply", "address": "12 Quarry Road\nHarrow"}
    services.set_supplier(by=site.by, supplier=site.supplier, email=address, **told)
    site.supplier.refresh_from_db()


def issued(site):
    reached_at(site)
    return site.issued()


def send(site, order):
    return services.send_order(by=site.by, order=order)


def sent(site, order):
    """Send the order as the button and the worker do, and return the job."""
    job = send(site, order)
    run_job(job.pk)
    job.refresh_from_db()
    return job


def parts(letter):
    return {each.get_filename(): each.get_payload(decode=True) for each in letter.iter_attachments()}


def test_supplier_gets_the_order_as_pdf_and_ubl(site):
    with time_machine.travel(datetime(2026, 6, 1, 15, tzinfo=UTC), tick=False):
        order = issued(site)
        job = sent(site, order)

    (letter,) = mail.outbox
    shown = order_of(order.company, order.pk)
    assert (job.state, job.error) == ("done", "")
    assert letter.to == [TO]
    assert letter.subject == f"Order {order.number} from {order.company.name}"
    assert letter.from_email == f"{order.company.name} <desk@setters.example>"
    assert letter.reply_to == ["Dana Whitlow <dana@setters.example>"]
    for words in ("Total: 189.90 USD", "Lines: 8", site.house.project.delivery_place, "Dana Whitlow"):
        assert words in letter.body
    assert [(name, kind) for name, _, kind in letter.attachments] == [
        (f"order-{order.number}.pdf", "application/pdf"),
        (f"order-{order.number}.xml", "application/xml"),
    ]
    written = message_from_bytes(jobs.path_of(job).read_bytes(), policy=policy.default)
    assert job.file_name == f"order-{order.number}.eml"
    assert written["To"] == TO
    assert written["Message-ID"] == letter.extra_headers["Message-ID"]
    assert parts(written) == {
        f"order-{order.number}.pdf": order_pdf(shown).content,
        f"order-{order.number}.xml": order_file(shown, "xml").content,
    }


def test_who_sent_it_when_and_to_whom_is_written_down(site):
    order = issued(site)
    before = timezone.now()

    job = sent(site, order)

    row = SentOrder.objects.get()
    assert (row.order, row.to, row.by, row.job) == (order, TO, site.by.user, job)
    assert before <= row.at <= timezone.now()
    assert row.by_server
    assert row.text == mail.outbox[0].body
    audit = AuditEntry.objects.get(action="send order")
    assert (audit.actor, audit.subject_name) == ("Dana Whitlow", order.number)
    assert audit.after == {"to": TO, "about": "order"}


def test_pressed_twice_it_is_sent_once(site, owner):
    order = issued(site)

    first = send(site, order)
    again = send(site, order)
    run_job(first.pk)
    run_job(first.pk)
    later = services.send_order(by=owner, order=order)

    assert first.pk == again.pk == later.pk
    assert len(mail.outbox) == 1
    assert SentOrder.objects.count() == 1


def test_worker_that_died_after_writing_it_down_does_not_send_again(site):
    order = issued(site)
    job = sent(site, order)
    Job.objects.filter(pk=job.pk).update(state="queued")

    run_job(job.pk)

    job.refresh_from_db()
    assert job.state == "done"
    assert len(mail.outbox) == 1


class TakesAndBreaks(locmem.EmailBackend):
    """A server that takes the message, and is gone before it says so."""

    def send_messages(self, messages):
        super().send_messages(messages)
        raise SMTPServerDisconnected("gone")


def test_second_copy_of_a_message_is_known_by_its_id(site, settings):
    order, good = issued(site), settings.EMAIL_BACKEND
    settings.EMAIL_BACKEND = f"{__name__}.TakesAndBreaks"
    job = sent(site, order)
    settings.EMAIL_BACKEND = good
    jobs.retry(by=site.by, job=job)

    run_job(job.pk)

    first, second = (letter.extra_headers["Message-ID"] for letter in mail.outbox)
    assert first == second
    assert SentOrder.objects.count() == 1


def test_new_address_gets_the_order_once_more(site):
    order = issued(site)
    sent(site, order)
    reached_at(site, "desk@thistle.example")
    order.refresh_from_db()  # with its supplier

    sent(site, order)

    assert [letter.to for letter in mail.outbox] == [[TO], ["desk@thistle.example"]]
    assert SentOrder.objects.count() == 2


def test_draft_and_missing_address_are_refused(site):
    draft = site.draft()
    with pytest.raises(NotIssued):
        send(site, draft)
    order = issue(draft, by=site.by)
    with pytest.raises(BadValue, match="Thistle Supply has no e-mail address"):
        send(site, order)

    assert not Job.objects.filter(kind="order-send").exists()
    assert mail.outbox == []


def test_of_a_cancelled_order_its_cancellation_is_sent(site):
    order = issued(site)
    sent(site, order)
    services.cancel_order(by=site.by, order=order, reason="The builder stopped the house.")

    sent(site, order)
    sent(site, order)  # pressed again it is the same message

    first, second = mail.outbox
    assert first.subject == f"Order {order.number} from {site.by.company.name}"
    assert second.subject == f"Cancellation of order {order.number} from {site.by.company.name}"
    assert "Reason: The builder stopped the house." in second.body
    assert [name for name, _, _ in second.attachments] == [f"cancellation-{order.number}.xml"]
    assert first.extra_headers["Message-ID"] != second.extra_headers["Message-ID"]
    assert list(SentOrder.objects.values_list("about", flat=True)) == ["order", "cancellation"]


def test_an_order_that_another_took_the_place_of_is_not_sent(site):
    order = issued(site)
    site.widen("W1", 48)
    change = issue(services.draft_change(by=site.by, order=order), by=site.by, key="form-2")

    with pytest.raises(OrderMoved):
        send(site, order)

    sent(site, change)
    (letter,) = mail.outbox
    assert letter.subject == f"Change order {change.number} from {site.by.company.name}"
    assert f"It takes the place of order {order.number}: send this one only." in letter.body


def test_sending_is_for_the_office_and_for_ones_own_orders(site, foreman, stranger):
    order = issued(site)

    with pytest.raises(NotAllowed):
        services.send_order(by=foreman, order=order)
    with pytest.raises(NotThere):
        services.send_order(by=stranger, order=order)


def test_without_a_server_the_message_lies_in_the_folder(site, settings, tmp_path):
    settings.EMAIL_BACKEND, settings.EMAIL_FILE_PATH = FOLDER, str(tmp_path / "mail")
    order = issued(site)

    job = sent(site, order)

    (file,) = (tmp_path / "mail").iterdir()
    assert f"Order {order.number}" in file.read_text()
    assert job.state == "done"
    assert not SentOrder.objects.get().by_server


@pytest.mark.parametrize(
    "name", ['Bolt & "Nut" <Co>', "\u202eylppuS\u202c שלום", "Ünïcode, Ltd; x@y.example"]
)
def test_hostile_names_make_no_other_header(site, name):
    site.by.company.name = name
    site.by.company.save()

    sent(site, issued(site))

    (letter,) = mail.outbox
    read = message_from_bytes(letter.message().as_bytes(), policy=policy.default)
    (sender,) = read["From"].addresses
    assert (sender.display_name, sender.addr_spec) == (name, "desk@setters.example")
    assert [each.addr_spec for each in read["To"].addresses] == [TO]
    assert read["Subject"].endswith(name)


def test_what_was_sent_is_never_changed(site):
    sent(site, issued(site))

    for write in (
        lambda: SentOrder.objects.update(to="other@thistle.example"),
        lambda: SentOrder.objects.all()._raw_delete("default"),
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            write()
