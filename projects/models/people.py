"""People who sign in, and what each may do for which company."""

from __future__ import annotations

import hashlib
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower
from django.db.models.lookups import Exact

from projects.models.constraints import at_least, one_of, text_between
from projects.models.owned import Owned


class UserRows(BaseUserManager["User"]):
    """Finds a person by e-mail address, in any case."""

    def get_by_natural_key(self, username: str | None) -> User:
        """Return the user whose e-mail address this is."""
        return self.get(email=(username or "").strip().lower())


class User(AbstractBaseUser):
    """A person. The e-mail address, in small letters, is the login; rights come from memberships alone."""

    email = models.EmailField(max_length=254, unique=True)
    name = models.CharField(max_length=120)
    is_active = models.BooleanField(default=True)
    session_round = models.PositiveIntegerField(default=1)

    objects: ClassVar[UserRows] = UserRows()

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Exact(models.F("email"), Lower("email")), name="user_email_small"
            ),
            text_between("email", shortest=3, longest=254, name="user_email_length"),
            text_between("name", shortest=1, longest=120, name="user_name_length"),
            at_least("session_round", 1, name="user_session_round"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name

    def _get_session_auth_hash(self, secret: str | None = None) -> str:
        # Django's hash dies with the password; ours also with the round, so that sessions can be ended
        of_password: str = super()._get_session_auth_hash(secret=secret)  # type: ignore[misc]
        return hashlib.sha256(f"{of_password}:{self.session_round}".encode()).hexdigest()

    def clean(self) -> None:
        """Keep the address in the form the database asks for."""
        self.email = self.email.strip().lower()

    def get_full_name(self) -> str:
        """Return the name, where Django asks for one."""
        return self.name

    def has_perm(self, *_: Any, **__: Any) -> bool:
        """Return no: rights are in `projects.rights` and nowhere else."""
        return False


class Role(models.TextChoices):
    """What a person is for a company."""

    OWNER = "owner", "Owner"
    MANAGER = "manager", "Office manager"
    FOREMAN = "foreman", "Foreman"
    CREW = "crew", "Crew"


class Membership(Owned):
    """A person's place in a company."""

    user = models.ForeignKey(User, on_delete=models.PROTECT, related_name="memberships")
    role = models.CharField(max_length=16, choices=Role.choices)
    active = models.BooleanField(default=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "user"], name="membership_once"),
            one_of("role", Role.values, name="membership_role"),
            at_least("version", 1, name="membership_version"),
        ]

    def __str__(self) -> str:
        """Return the person and the role."""
        return f"{self.user}, {self.get_role_display()}"

    @property
    def name(self) -> str:
        """Return the person's name, as the audit trail keeps it."""
        return self.user.name
