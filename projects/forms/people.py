"""Forms of people, of signing in and of the company itself."""

from __future__ import annotations

import zoneinfo
from typing import Any, cast

from django import forms
from django.contrib.auth import authenticate
from django.contrib.auth.forms import AuthenticationForm
from django.http import HttpRequest

from projects.forms.plain import PlainForm, version_field
from projects.messages import FIELD_WORDS
from projects.models import Paper, Role, User

LONGEST_PASSWORD = 128
NO_MATCH = "Address and password don't go together. Check both, or ask the owner for a new link."


class SignInForm(AuthenticationForm):
    """E-mail address and password; the words are the same for a wrong password and an unknown person."""

    use_required_attribute = False
    username = forms.EmailField(
        label="E-mail address",
        max_length=254,
        widget=forms.EmailInput(attrs={"autocomplete": "username", "autofocus": True}),
        error_messages={"required": FIELD_WORDS["required"].format(label="E-mail address")},
    )
    password = forms.CharField(
        label="Password",
        max_length=LONGEST_PASSWORD,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": FIELD_WORDS["required"].format(label="Password")},
    )
    own_phone = forms.BooleanField(
        label="This is my own phone",
        required=False,
        help_text="It then asks crew and foremen for the password once in 30 days. "
        "Leave it empty on a phone or computer that others use too.",
    )
    error_messages = {"invalid_login": NO_MATCH, "inactive": NO_MATCH}

    def clean_username(self) -> str:
        """Return the address in small letters, so that a guesser's tries count as one."""
        return str(self.cleaned_data["username"]).strip().lower()


class InviteForm(PlainForm):
    """A new person of the company."""

    name = forms.CharField(label="Name", max_length=120)
    email = forms.EmailField(label="E-mail address", max_length=254)
    role = forms.ChoiceField(label="Role", choices=Role.choices, initial=Role.CREW)

    def words_of(self, name: str) -> dict[str, str]:
        """Return what an address looks like."""
        if name == "email":
            return {"invalid": "This is not an e-mail address. Write it as name@example.com."}
        return {}


class RoleForm(PlainForm):
    """Another role for a person."""

    role = forms.ChoiceField(label="Role", choices=Role.choices)
    version = version_field()


class PasswordForm(PlainForm):
    """A password of one's own."""

    password = forms.CharField(
        label="New password",
        max_length=LONGEST_PASSWORD,
        strip=False,
        help_text="At least 12 characters. A few words of your own are easy to type and hard to guess.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )


class ChangePasswordForm(PasswordForm):
    """Another password, by whoever knows the one before: an unlocked phone is not enough.

    A wrong one counts as a wrong sign-in does, so that nobody tries them out here.
    """

    old_password = forms.CharField(
        label="Your password until now",
        max_length=LONGEST_PASSWORD,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    field_order = ("old_password", "password")

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        """Keep who asks: the guard against guessing looks at it."""
        super().__init__(*args, **kwargs)
        self.request = request

    def clean_old_password(self) -> str:
        """Return the password until now. Refuses another one."""
        old = str(self.cleaned_data["old_password"])
        email = cast(User, self.request.user).email
        if authenticate(self.request, username=email, password=old) is None:
            raise forms.ValidationError("This is not your password. Type the one you sign in with.")
        return old


class CompanyForm(PlainForm):
    """What holds for the whole company."""

    name = forms.CharField(label="Company name", max_length=120)
    time_zone = forms.ChoiceField(
        label="Time zone",
        choices=[(zone, zone.replace("_", " ")) for zone in sorted(zoneinfo.available_timezones())],
        help_text="Every clock time on screen and paper is in this zone.",
    )
    sheets_hour = forms.IntegerField(
        label="Hour of the evening sheets",
        min_value=0,
        max_value=23,
        help_text="Tomorrow's crew sheets are made at this hour, 0 to 23.",
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "size": 3}),
    )
    claim_days = forms.IntegerField(
        label="Days to claim a damaged window",
        min_value=0,
        max_value=60,
        help_text="From the day of its record. 3 is common practice, no source; the seller's terms overrule.",
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "size": 3}),
    )
    paper = forms.ChoiceField(
        label="Paper",
        choices=Paper.choices,
        help_text="Sheets, lists, labels and new orders are drawn for it. An issued order keeps its own.",
    )
    yard = forms.CharField(
        label="Our yard",
        max_length=200,
        required=False,
        help_text="Orders for several projects at once are delivered here.",
    )
    version = version_field()
