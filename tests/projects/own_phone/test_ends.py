"""What ends a phone of one's own, at its next request and for good."""

from __future__ import annotations

import pytest
import time_machine
from django.urls import reverse

from projects import services
from projects.errors import NotAllowed, NotThere
from projects.models import AuditEntry, Device, Membership, Role
from tests.factories.people import PASSWORD, DeviceFactory, MembershipFactory
from tests.projects.own_phone.phone import DAY, MORNING, Phone, own_phone_of, told

pytestmark = pytest.mark.django_db
OTHER_PASSWORD = "level the sill before the head"


def sign_out_here(phone, device, owner, person):
    phone.client.post("/sign-out/")


def sign_out_here_by_the_page(phone, device, owner, person):
    phone.client.post(reverse("device-end", args=[device.pk]))


def change_the_password(phone, device, owner, person):
    elsewhere = Phone()
    elsewhere.sign_in(person, own=False)
    assert (
        elsewhere.client.post(
            "/password/", {"old_password": PASSWORD, "password": OTHER_PASSWORD}
        ).status_code
        == 302
    )


def choose_a_password_by_link(phone, device, owner, person):
    person.user.refresh_from_db()  # the link dies with a later sign-in
    who, token = services.hand_out_link(by=owner, membership=person)
    link = Phone().client.post(f"/password/{who}/{token}/", {"password": OTHER_PASSWORD})
    assert link.status_code == 302


def set_the_password_on_the_server(phone, device, owner, person):
    person.user.set_password(OTHER_PASSWORD)
    person.user.save()


def disable_the_person(phone, device, owner, person):
    person.user.is_active = False
    person.user.save()


def raise_to_manager(phone, device, owner, person):
    services.change_role(by=owner, membership=person, version=None, role=Role.MANAGER)


def raise_to_owner(phone, device, owner, person):
    services.change_role(by=owner, membership=person, version=None, role=Role.OWNER)


def end_every_session(phone, device, owner, person):
    services.end_sessions(by=owner, membership=person)


def end_the_membership(phone, device, owner, person):
    services.end_membership(by=owner, membership=person)


def end_the_phone(phone, device, owner, person):
    services.end_device(by=owner, device=device)


def let_in_at_another_desk(phone, device, owner, person):
    boss = MembershipFactory(role=Role.OWNER)
    left = MembershipFactory(company=boss.company, user=person.user, role=Role.MANAGER, active=False)
    services.restore_membership(by=boss, membership=left)


def found_a_company(phone, device, owner, person):
    services.found_company(
        code="OWN", name="Own Setters", owner_email=person.user.email, owner_name=person.name
    )


ENDS = [
    sign_out_here,
    sign_out_here_by_the_page,
    change_the_password,
    choose_a_password_by_link,
    set_the_password_on_the_server,
    disable_the_person,
    raise_to_manager,
    raise_to_owner,
    end_every_session,
    end_the_membership,
    end_the_phone,
    let_in_at_another_desk,
    found_a_company,
]


@pytest.mark.parametrize("end", ENDS, ids=lambda end: end.__name__)
def test_the_next_request_is_asked_for_the_password(owner, hand, end):
    phone, device = own_phone_of(hand)
    copy = phone.copy(session=True)
    token_alone = phone.copy()
    assert copy.is_in()

    end(phone, device, owner, hand)

    assert not copy.is_in()
    assert not token_alone.is_in()
    assert not phone.is_in()


@pytest.mark.parametrize("end", ENDS, ids=lambda end: end.__name__)
def test_the_next_morning_is_asked_too(owner, hand, end):
    with time_machine.travel(MORNING, tick=False) as clock:
        phone, device = own_phone_of(hand)
        end(phone.copy(session=True), device, owner, hand)
        clock.shift(DAY)

        assert not phone.is_in()


def test_without_an_end_the_next_morning_opens(owner, hand):
    """Negative control of both."""
    with time_machine.travel(MORNING, tick=False) as clock:
        phone, _ = own_phone_of(hand)
        services.change_role(by=owner, membership=hand, version=None, role=Role.FOREMAN)
        assert phone.is_in()
        clock.shift(DAY)
        assert phone.is_in()


@pytest.mark.parametrize("end", ENDS, ids=lambda end: end.__name__)
def test_what_ends_a_phone_is_written_down_with_who_did_it(owner, hand, end):
    phone, device = own_phone_of(hand)

    end(phone, device, owner, hand)

    device.refresh_from_db()
    ended = AuditEntry.objects.filter(action="end phone", subject_id=device.pk)
    # what is done on the server, past every service, leaves the row; the phone is shut all the same
    past_services = end in (set_the_password_on_the_server, disable_the_person)
    assert (device.ended_at is None) == past_services
    assert ended.count() == (0 if past_services else 1)


def test_signing_out_takes_the_cookie_away_and_ends_this_phone_alone(hand):
    phone, _ = own_phone_of(hand)
    other = Phone()
    other.sign_in(hand)

    answer = phone.client.post("/sign-out/")

    assert (told(answer).value, told(answer)["max-age"]) == ("", 0)
    assert not phone.is_in()
    assert other.is_in()
    assert Device.objects.filter(user=hand.user, ended_at=None).count() == 1


def test_signing_out_in_the_morning_ends_the_phone_as_well(hand):
    with time_machine.travel(MORNING, tick=False) as clock:
        phone, device = own_phone_of(hand)
        token = phone.token
        clock.shift(DAY)

        answer = phone.client.post("/sign-out/")

    device.refresh_from_db()
    assert device.ended_at == MORNING + DAY
    assert told(answer).value == ""
    assert token
    assert not phone.is_in()


def test_after_an_end_a_password_opens_again(hand):
    phone, device = own_phone_of(hand)
    services.end_device(by=hand, device=device)

    assert phone.sign_in(hand).status_code == 302

    assert phone.is_in()
    assert Device.objects.filter(user=hand.user).count() == 2


def test_a_demoted_manager_does_not_get_back_what_was_ended(owner, hand):
    phone, _ = own_phone_of(hand)
    services.change_role(by=owner, membership=hand, version=None, role=Role.MANAGER)
    services.change_role(by=owner, membership=hand, version=None, role=Role.CREW)

    assert not phone.is_in()


def test_a_password_changed_on_the_phone_itself_ends_its_staying(hand):
    with time_machine.travel(MORNING, tick=False) as clock:
        phone, _ = own_phone_of(hand)
        phone.client.post("/password/", {"old_password": PASSWORD, "password": OTHER_PASSWORD})
        assert phone.is_in()
        clock.shift(DAY)
        assert not phone.is_in()


def test_nobody_but_the_person_and_the_owner_ends_a_phone(owner, manager, foreman, hand, stranger):
    _, device = own_phone_of(hand)

    for other in (manager, foreman):
        with pytest.raises(NotAllowed):
            services.end_device(by=other, device=device)
    with pytest.raises(NotThere):
        services.end_device(by=stranger, device=device)
    device.refresh_from_db()
    assert device.ended_at is None
    services.end_device(by=owner, device=device)
    device.refresh_from_db()
    assert device.ended_at is not None


def test_ending_twice_writes_once(owner, hand):
    _, device = own_phone_of(hand)

    first = services.end_device(by=owner, device=device).ended_at
    second = services.end_device(by=owner, device=device).ended_at

    assert first == second
    assert AuditEntry.objects.filter(action="end phone").count() == 1


def test_an_easy_password_ends_nothing(hand):
    phone, device = own_phone_of(hand)

    assert phone.client.post("/password/", {"old_password": PASSWORD, "password": "short"}).status_code == 422

    device.refresh_from_db()
    assert device.ended_at is None
    assert PASSWORD != OTHER_PASSWORD


def test_a_removed_company_takes_the_phones_of_its_people(hand, stranger):
    own_phone_of(hand)
    kept = DeviceFactory(user=stranger.user)

    services.remove_company(company=hand.company)

    assert list(Device.objects.all()) == [kept]
    assert Membership.objects.get() == stranger
