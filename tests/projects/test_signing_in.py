"""Sessions: begun with a new id, ended by their clocks, by the owner, by a new password; entries are kept."""

from __future__ import annotations

import time
from datetime import timedelta

import pytest
import time_machine
from django.conf import settings
from django.test import Client
from django.utils import timezone

from projects import services
from projects.models import Project, Role
from projects.sessions import LIMITS
from tests.factories.houses import ProjectFactory
from tests.factories.people import PASSWORD, CompanyFactory, MembershipFactory, UserFactory

pytestmark = pytest.mark.django_db
HOUR = 3600
DAY = 24 * HOUR
PROJECT = {"code": "ALDER", "name": "Alder Row", "builder": "Teasel Homes"}


def sign_in(client, membership, **more):
    return client.post("/sign-in/", {"username": membership.user.email, "password": PASSWORD, **more})


def is_in(client):
    return client.get("/").status_code == 200


def test_address_and_password_open_the_home_page(client, manager):
    answer = sign_in(client, manager)

    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert is_in(client)


def test_the_address_may_be_typed_in_any_case(client, manager):
    answer = client.post("/sign-in/", {"username": " DANA@Setters.Example ", "password": PASSWORD})

    assert answer.status_code == 302


def test_known_and_unknown_people_read_the_same_words(client, manager):
    wrong = client.post("/sign-in/", {"username": manager.user.email, "password": "not the password"})
    unknown = client.post("/sign-in/", {"username": "nobody@setters.example", "password": "not the password"})

    assert wrong.status_code == unknown.status_code == 422
    assert wrong.context["form"].non_field_errors() == unknown.context["form"].non_field_errors()
    assert "Check both, or ask the owner for a new link." in wrong.content.decode()


def test_the_session_gets_a_new_id_at_sign_in(manager):
    """R22, A13: an id that somebody planted before is worth nothing after."""
    for _ in range(20):
        client = Client()
        planted = client.session
        planted["planted"] = True
        planted.save()
        client.cookies[settings.SESSION_COOKIE_NAME] = planted.session_key

        sign_in(client, manager)

        assert client.cookies[settings.SESSION_COOKIE_NAME].value != planted.session_key
        thief = Client()
        thief.cookies[settings.SESSION_COOKIE_NAME] = planted.session_key
        assert not is_in(thief)


def test_signing_out_ends_the_session_and_clears_the_browser(client, manager):
    sign_in(client, manager)
    key = client.cookies[settings.SESSION_COOKIE_NAME].value

    answer = client.post("/sign-out/")

    assert answer["Clear-Site-Data"] == '"cache", "storage"'
    thief = Client()
    thief.cookies[settings.SESSION_COOKIE_NAME] = key
    assert not is_in(thief)


def test_pages_are_not_kept_by_a_shared_browser(client, manager):
    sign_in(client, manager)

    assert client.get("/projects/")["Cache-Control"] == "private, no-store"


def test_a_foreign_next_address_leads_home(client, manager):
    assert sign_in(client, manager, next="//evil.example/")["Location"] == "/"
    client.post("/sign-out/")
    assert sign_in(client, manager, next="https://evil.example/")["Location"] == "/"
    client.post("/sign-out/")
    assert sign_in(client, manager, next="/projects/")["Location"] == "/projects/"


def test_a_link_opens_its_page_after_signing_in(client, manager):
    answer = client.get("/projects/?q=alder")

    assert answer["Location"] == "/sign-in/?next=%2Fprojects%2F%3Fq%3Dalder"


@pytest.mark.parametrize(
    ("role", "idle", "absolute"),
    [
        (Role.OWNER, 2 * HOUR, 12 * HOUR),
        (Role.MANAGER, 2 * HOUR, 12 * HOUR),
        (Role.FOREMAN, 12 * HOUR, 30 * DAY),
        (Role.CREW, 12 * HOUR, 30 * DAY),
    ],
)
def test_the_limits_are_the_roles_own(role, idle, absolute):
    assert (LIMITS[role].idle, LIMITS[role].absolute) == (idle, absolute)


@pytest.mark.parametrize("role", [Role.OWNER, Role.CREW])
def test_a_session_ends_when_nobody_was_there(client, company, role):
    membership = MembershipFactory(company=company, role=role)
    begun = timezone.now()
    with time_machine.travel(begun, tick=False):
        sign_in(client, membership)

    with time_machine.travel(begun + timedelta(seconds=LIMITS[role].idle), tick=False):
        assert is_in(client)
    with time_machine.travel(begun + timedelta(seconds=2 * LIMITS[role].idle + 1), tick=False):
        assert not is_in(client)


@pytest.mark.parametrize("role", [Role.OWNER, Role.CREW])
def test_a_busy_session_ends_all_the_same(client, company, role):
    membership = MembershipFactory(company=company, role=role)
    begun = timezone.now()
    limits = LIMITS[role]
    with time_machine.travel(begun, tick=False) as clock:
        sign_in(client, membership)
        alive = []
        for seconds in range(limits.idle // 2, limits.absolute + limits.idle, limits.idle // 2):
            clock.move_to(begun + timedelta(seconds=seconds))
            alive.append((seconds, is_in(client)))

    assert all(
        is_alive == (seconds < limits.absolute) for seconds, is_alive in alive if seconds != limits.absolute
    )


def test_an_ended_person_is_out_at_the_next_request(client, owner, manager):
    sign_in(client, manager)
    services.end_membership(by=owner, membership=manager)

    assert client.get("/projects/").status_code == 302


def test_a_disabled_person_is_out_at_the_next_request(client, manager):
    sign_in(client, manager)
    manager.user.is_active = False
    manager.user.save()

    assert client.get("/projects/").status_code == 302


def test_htmx_is_sent_to_sign_in_as_a_whole_page(client, db):
    answer = client.get("/projects/", headers={"HX-Request": "true"})

    assert answer.status_code == 401
    assert answer["HX-Redirect"].startswith("/sign-in/")


def test_the_owner_ends_every_session_of_a_lost_phone(client, owner, hand):
    phone = Client()
    sign_in(phone, hand)
    sign_in(client, owner)

    client.post(f"/people/{hand.pk}/sign-out/")

    assert not is_in(phone)
    assert is_in(client)
    sign_in(phone, hand)
    assert is_in(phone)


def test_a_new_password_ends_the_other_sessions(client, manager):
    elsewhere = Client()
    sign_in(elsewhere, manager)
    sign_in(client, manager)

    answer = client.post("/password/", {"password": "level the sill before the head"})

    assert answer.status_code == 302
    assert is_in(client)
    assert not is_in(elsewhere)


@pytest.mark.parametrize(
    ("password", "told"),
    [
        ("short", "Use at least 12 characters; a few words are fine."),
        ("qwerty123456", "It is on the list that guessers try first."),
        ("dana@setters.example", "It is too close to your name or address."),
    ],
)
def test_an_easy_password_is_refused_in_words(client, manager, password, told):
    sign_in(client, manager)

    answer = client.post("/password/", {"password": password})

    assert answer.status_code == 422
    assert told in answer.content.decode()
    manager.user.refresh_from_db()
    assert manager.user.check_password(PASSWORD)


def test_a_long_password_is_taken_whole(client, manager):
    long = "plumb " * 21  # 126 characters
    sign_in(client, manager)

    client.post("/password/", {"password": long})
    client.post("/sign-out/")

    assert client.post("/sign-in/", {"username": manager.user.email, "password": long}).status_code == 302


def test_a_password_link_works_once(client, owner):
    wren = services.invite_person(by=owner, email="wren@setters.example", name="Wren Idle", role=Role.CREW)
    who, token = services.hand_out_link(by=owner, membership=wren)
    link = f"/password/{who}/{token}/"

    assert client.get(link).status_code == 200
    assert client.post(link, {"password": PASSWORD}).status_code == 302
    assert client.get(link).status_code == 404
    assert sign_in(client, wren).status_code == 302


def test_a_password_link_dies_after_three_days(client, owner, hand):
    who, token = services.hand_out_link(by=owner, membership=hand)

    with time_machine.travel(timezone.now() + timedelta(days=3, minutes=1)):
        assert client.get(f"/password/{who}/{token}/").status_code == 404


def test_a_form_sent_too_late_is_kept_and_sent_again(client, manager):
    sent = client.post("/projects/new/", PROJECT)
    assert sent["Location"] == "/sign-in/?next=%2Fkept%2F"
    assert "your entry is kept" in client.get(sent["Location"]).content.decode()

    page = sign_in(client, manager, next="/kept/")
    shown = client.get(page["Location"]).content.decode()
    assert 'action="/projects/new/"' in shown
    assert 'name="builder" value="Teasel Homes"' in shown

    client.post("/projects/new/", {**PROJECT, "kept_entry": "yes"})
    assert Project.objects.of(manager.company).get().name == "Alder Row"
    assert "Nothing is kept." in client.get("/kept/").content.decode()


def test_a_form_with_an_old_token_is_kept_too(manager):
    client = Client(enforce_csrf_checks=True)
    client.force_login(manager.user)

    refused = client.post("/projects/new/", PROJECT)

    assert refused.status_code == 403
    assert "your entry is kept" in refused.content.decode()
    assert 'value="Teasel Homes"' in client.get("/kept/").content.decode()


def test_a_form_of_another_site_is_not_kept(manager):
    client = Client(enforce_csrf_checks=True)
    client.force_login(manager.user)

    client.post("/projects/new/", PROJECT, headers={"Origin": "https://evil.example"})

    assert "Nothing is kept." in client.get("/kept/").content.decode()


def test_a_password_is_never_kept(client, manager):
    client.post("/password/", {"password": "level the sill before the head", "note": "x"})
    sign_in(client, manager)

    assert "level the sill" not in client.get("/kept/").content.decode()


def test_a_person_of_two_companies_chooses_where_to_work(client):
    both = UserFactory(name="Tove Ashgrove")
    first = MembershipFactory(user=both, company=CompanyFactory(name="Alder Setters"))
    second = MembershipFactory(user=both, company=CompanyFactory(name="Birch Setters"))
    ProjectFactory(company=second.company, name="Tarn Hill Lane")
    sign_in(client, first)
    assert "Tarn Hill Lane" not in client.get("/projects/").content.decode()

    client.post("/company/switch/", {"company": second.company_id})

    assert "Tarn Hill Lane" in client.get("/projects/").content.decode()


def test_nobody_works_for_a_company_they_are_not_in(client, manager):
    foreign = ProjectFactory(name="Tarn Hill Lane").company
    sign_in(client, manager)

    client.post("/company/switch/", {"company": foreign.pk})

    assert "Tarn Hill Lane" not in client.get("/projects/").content.decode()


def test_one_company_needs_no_switch(client, manager):
    sign_in(client, manager)

    assert "company/switch" not in client.get("/").content.decode()


def test_a_person_without_a_company_reads_what_to_do(client):
    client.force_login(UserFactory())

    answer = client.get("/")

    assert answer.status_code == 403
    assert "Ask the owner of your company to let you in." in answer.content.decode()


def test_the_choice_of_light_or_dark_is_kept(client, manager):
    sign_in(client, manager)

    client.post("/appearance/", {"appearance": "dark", "back": "/projects/"})
    page = client.get("/projects/").content.decode()

    assert '<html lang="en" data-appearance="dark">' in page


def test_appearance_leads_back_to_our_own_pages_only(client, db):
    assert client.post("/appearance/", {"back": "https://evil.example/"})["Location"] == "/"
    assert client.post("/appearance/", {"back": "/projects/"})["Location"] == "/projects/"


def test_the_session_is_written_down_at_most_every_five_minutes(client, manager):
    with time_machine.travel(time.time(), tick=False) as clock:
        sign_in(client, manager)
        seen = client.session["seen_at"]
        clock.shift(299)
        client.get("/")
        assert client.session["seen_at"] == seen
        clock.shift(2)
        client.get("/")
        assert client.session["seen_at"] == seen + 301
