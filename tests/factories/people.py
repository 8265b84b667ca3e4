"""The cast of the tests: one company with one person per role, and a stranger who owns another."""

from __future__ import annotations

import factory
from django.utils import timezone

from projects.models import Company, Device, Membership, Role, User

PASSWORD = "plumb level and square"


class CompanyFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Company

    code = factory.Sequence(lambda number: f"SETTERS-{number}")
    name = factory.LazyAttribute(lambda company: f"{company.code.title()} Window Setters")


class UserFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = User
        skip_postgeneration_save = True

    name = factory.Sequence(lambda number: f"Person-{number}")
    email = factory.LazyAttribute(lambda user: f"{user.name.partition(' ')[0].lower()}@setters.example")

    @factory.post_generation
    def password(self, create, extracted, **_):
        self.set_password(extracted or PASSWORD)
        if create:
            self.save(update_fields=["password"])


class MembershipFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Membership

    company = factory.SubFactory(CompanyFactory)
    user = factory.SubFactory(UserFactory)
    role = Role.MANAGER


class DeviceFactory(factory.django.DjangoModelFactory):
    """A phone on which a person stays signed in, with a token that nobody has."""

    class Meta:
        model = Device

    user = factory.SubFactory(UserFactory)
    name = "Android phone"
    token_hash = factory.Sequence(lambda number: f"{number:064x}")
    session_hash = factory.LazyAttribute(lambda device: device.user.get_session_auth_hash())
    made_at = factory.LazyFunction(timezone.now)
    handed_at = factory.SelfAttribute("made_at")
    received_at = factory.SelfAttribute("made_at")
    seen_at = factory.SelfAttribute("made_at")


def _member(company, name, role):
    return MembershipFactory(company=company, user=UserFactory(name=name), role=role)


def harrow():
    """Return the company of the tests."""
    return CompanyFactory(code="HARROW", name="Harrow Lane Window Setters")


def odalys(company):
    """Return the owner."""
    return _member(company, "Odalys Brandt", Role.OWNER)


def dana(company):
    """Return the office manager."""
    return _member(company, "Dana Whitlow", Role.MANAGER)


def ferris(company):
    """Return the foreman."""
    return _member(company, "Ferris Tamm", Role.FOREMAN)


def juno(company):
    """Return a pair of hands."""
    return _member(company, "Juno Pell", Role.CREW)


def sable():
    """Return the owner of another company."""
    return _member(CompanyFactory(code="QUILLET", name="Quillet Setters"), "Sable Orrin", Role.OWNER)
