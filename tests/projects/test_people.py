"""The owner's pages: who belongs to the company, and what nobody may do to somebody else's sign-in."""

from __future__ import annotations

import pytest

from projects import services
from projects.errors import BadValue, ElsewhereToo, LastOwner, StaleVersion, Taken
from projects.models import AuditEntry, Company, Membership, Role, User
from tests.factories.people import MembershipFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def boss(client, owner):
    client.force_login(owner.user)
    return client


def test_people_are_listed_with_their_roles(boss, hand):
    page = boss.get("/people/").content.decode()

    assert "Juno Pell" in page
    assert "Odalys Brandt" in page


def test_an_invited_person_gets_a_link_from_the_owner(boss, company):
    boss.post("/people/invite/", {"name": "Wren Idle", "email": "Wren@setters.example", "role": "foreman"})
    wren = Membership.objects.of(company).get(user__email="wren@setters.example")

    page = boss.post(f"/people/{wren.pk}/link/").content.decode()

    assert "http://testserver/password/" in page
    assert AuditEntry.objects.of(company).last().action == "hand out password link"


def test_an_address_belongs_to_the_company_once(owner, hand):
    with pytest.raises(Taken):
        services.invite_person(by=owner, email="juno@setters.example", name="Juno", role=Role.CREW)

    assert Membership.objects.of(owner.company).count() == 2


def test_an_owner_gets_no_hold_on_another_companys_person(owner, stranger):
    with pytest.raises(ElsewhereToo):
        services.invite_person(by=owner, email=stranger.user.email, name="Sable", role=Role.CREW)

    assert Membership.objects.filter(user=stranger.user).count() == 1


def test_a_person_of_two_companies_gets_no_link_from_one_owner(owner, stranger):
    both = MembershipFactory(company=owner.company, user=stranger.user)

    with pytest.raises(ElsewhereToo):
        services.hand_out_link(by=owner, membership=both)

    assert not AuditEntry.objects.of(owner.company).exists()


@pytest.mark.parametrize("email", ["", "wren", "wren@", "a b@c.example", "x" * 250 + "@c.example"])
def test_an_address_that_is_none_is_refused(owner, email):
    with pytest.raises(BadValue):
        services.invite_person(by=owner, email=email, name="Wren", role=Role.CREW)

    assert User.objects.count() == 1


def test_a_role_is_changed_with_its_audit_row(owner, hand):
    services.change_role(by=owner, membership=hand, version=1, role=Role.FOREMAN)

    hand.refresh_from_db()
    entry = AuditEntry.objects.of(owner.company).get()
    assert hand.role == Role.FOREMAN
    assert (entry.before, entry.after) == ({"role": "crew"}, {"role": "foreman"})


def test_a_role_changed_meanwhile_is_not_overwritten(owner, hand):
    services.change_role(by=owner, membership=hand, version=1, role=Role.FOREMAN)

    with pytest.raises(StaleVersion):
        services.change_role(by=owner, membership=hand, version=1, role=Role.MANAGER)

    hand.refresh_from_db()
    assert hand.role == Role.FOREMAN


def test_the_last_owner_stays_owner(boss, owner):
    demoted = boss.post(f"/people/{owner.pk}/", {"role": "crew", "version": "1"})
    ended = boss.post(f"/people/{owner.pk}/end/")

    assert demoted.status_code == ended.status_code == 409
    assert "Make somebody else an owner first." in demoted.content.decode()
    owner.refresh_from_db()
    assert (owner.role, owner.active) == (Role.OWNER, True)


def test_one_of_two_owners_may_step_down(owner):
    MembershipFactory(company=owner.company, role=Role.OWNER)

    services.change_role(by=owner, membership=owner, version=1, role=Role.MANAGER)

    owner.refresh_from_db()
    assert owner.role == Role.MANAGER


def test_an_ended_owner_does_not_count(owner):
    MembershipFactory(company=owner.company, role=Role.OWNER, active=False)

    with pytest.raises(LastOwner):
        services.end_membership(by=owner, membership=owner)

    owner.refresh_from_db()
    assert owner.active


def test_ending_a_membership_offers_the_way_back(boss, hand):
    page = boss.post(f"/people/{hand.pk}/end/", follow=True).content.decode()
    hand.refresh_from_db()
    assert not hand.active
    assert f'action="/people/{hand.pk}/restore/"' in page

    boss.post(f"/people/{hand.pk}/restore/")
    hand.refresh_from_db()
    assert hand.active


def test_a_company_is_founded_with_its_owner():
    owner = services.found_company(
        code="HARROW",
        name="Harrow Lane Window Setters",
        owner_email="Odalys@setters.example",
        owner_name="Odalys Brandt",
        password="plumb level and square",
    )

    assert (owner.role, owner.user.email, owner.company.code) == (
        Role.OWNER,
        "odalys@setters.example",
        "HARROW",
    )
    assert owner.user.check_password("plumb level and square")


def test_a_company_with_an_easy_password_is_not_founded():
    with pytest.raises(BadValue):
        services.found_company(
            code="HARROW",
            name="Harrow",
            owner_email="o@setters.example",
            owner_name="Odalys",
            password="short",
        )

    assert not Company.objects.exists()
    assert not User.objects.exists()


def test_a_company_code_is_given_once(company):
    with pytest.raises(Taken):
        services.found_company(
            code="harrow",
            name="Harrow",
            owner_email="o@setters.example",
            owner_name="Odalys",
            password="plumb level and square",
        )

    assert Company.objects.count() == 1


@pytest.mark.parametrize(
    "values",
    [{"time_zone": "Mars/Olympus"}, {"sheets_hour": 24}, {"sheets_hour": -1}, {"name": ""}],
)
def test_settings_that_cannot_be_are_refused(owner, values):
    form = {"name": "Harrow", "time_zone": "America/Phoenix", "sheets_hour": 18, **values}

    with pytest.raises(BadValue):
        services.edit_company(by=owner, version=1, **form)

    owner.company.refresh_from_db()
    assert (owner.company.name, owner.company.version) == ("Harrow Lane Window Setters", 1)


def test_pages_tell_the_companys_own_time(boss, owner):
    services.edit_company(by=owner, version=1, name="Harrow", time_zone="Pacific/Kiritimati", sheets_hour=18)

    from zoneinfo import ZoneInfo

    from django.utils import timezone

    page = boss.get("/").content.decode()
    assert f'datetime="{timezone.now().astimezone(ZoneInfo("Pacific/Kiritimati")):%Y-%m-%d}"' in page
