"""Forms of crews, their people, and what things cost a day or an hour."""

from __future__ import annotations

import re
from datetime import time
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet

from crews.models import Crew, CrewMember
from projects.forms.houses import CodedForm, code_field
from projects.forms.plain import PlainForm, version_field
from projects.models import User
from projects.quantities.money import Money

_BREAK = re.compile(r"(\d{1,2}):(\d{2})\s*(?:-|–|to)\s*(\d{1,2}):(\d{2})")
GRADES = (("lead", "Lead"), ("installer", "Installer"), ("helper", "Helper"))


def _clock(label: str) -> forms.TimeField:
    return forms.TimeField(label=label, widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"}))


def _minutes(label: str, hint: str) -> forms.IntegerField:
    widget = forms.NumberInput(attrs={"inputmode": "numeric", "size": 4})
    return forms.IntegerField(label=label, min_value=0, max_value=480, help_text=hint, widget=widget)


def _amount(label: str, hint: str, *, required: bool = True) -> forms.DecimalField:
    return forms.DecimalField(
        label=label,
        max_digits=8,
        decimal_places=2,
        min_value=0,
        required=required,
        help_text=hint,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "size": 8, "autocomplete": "off"}),
    )


class PeopleForm(PlainForm):
    """A form with a choice among the people who sign in for the company."""

    people: QuerySet[User]

    @classmethod
    def among(cls, people: QuerySet[User]) -> Any:
        """Return the form with `people` to choose from."""
        return type(cls.__name__, (cls,), {"people": people})

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Offer the people in every field that chooses one."""
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            if isinstance(field, forms.ModelChoiceField):
                field.queryset = self.people


class CrewForm(PeopleForm, CodedForm):
    """A crew and its day."""

    code_called = "Crew code"

    code = code_field("Crew code", "RED")
    name = forms.CharField(label="Crew name", max_length=120)
    day_start = _clock("Day starts")
    day_end = _clock("Day ends")
    breaks = forms.CharField(
        label="Breaks",
        max_length=120,
        required=False,
        help_text="From and to, commas between: 9:30-9:45, 12:00-12:30.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    set_up_min = _minutes("Set-up, minutes", "Truck and set-up before the first opening.")
    clean_up_min = _minutes("Clean-up, minutes", "Clean-up and truck after the last one.")
    has_lift = forms.BooleanField(
        label="This crew has a lift",
        required=False,
        help_text="Units too heavy for hands go to a crew with one.",
    )
    foreman = forms.ModelChoiceField(
        label="Foreman", queryset=User.objects.none(), required=False, empty_label="Nobody yet"
    )
    par_list = forms.CharField(
        label="Always on the truck",
        required=False,
        max_length=2000,
        help_text="One thing a line; it heads every sheet's list.",
        widget=forms.Textarea(attrs={"rows": 6}),
    )
    version = version_field()

    def clean_breaks(self) -> list[tuple[int, int]]:
        """Return the breaks as pairs of minutes after midnight."""
        text = self.cleaned_data["breaks"].strip()
        parts = [part.strip() for part in re.split(r"[,;]", text) if part.strip()]
        found = [_BREAK.fullmatch(part) for part in parts]
        if not all(found):
            raise ValidationError("Breaks can't be read. Write 9:30-9:45, 12:00-12:30.")
        pairs = [tuple(int(number) for number in match.groups()) for match in found if match]
        return [(60 * first + at, 60 * last + until) for first, at, last, until in pairs]

    @property
    def day(self) -> dict[str, Any]:
        """Return what the services take besides code and name."""
        cleaned = self.cleaned_data
        return {
            "day_start_min": _minute(cleaned["day_start"]),
            "day_end_min": _minute(cleaned["day_end"]),
            "breaks": cleaned["breaks"],
            "set_up_min": cleaned["set_up_min"],
            "clean_up_min": cleaned["clean_up_min"],
            "has_lift": cleaned["has_lift"],
            "foreman": cleaned["foreman"],
            "par_list": [line.strip() for line in cleaned["par_list"].splitlines() if line.strip()],
        }


def entry_of(crew: Crew) -> dict[str, Any]:
    """Return the crew as its form shows it."""
    return {
        "code": crew.code,
        "name": crew.name,
        "day_start": time(*divmod(crew.day_start_min, 60)),
        "day_end": time(*divmod(crew.day_end_min, 60)),
        "breaks": ", ".join(f"{_told(start)}-{_told(end)}" for start, end in crew.breaks),
        "set_up_min": crew.set_up_min,
        "clean_up_min": crew.clean_up_min,
        "has_lift": crew.has_lift,
        "foreman": crew.foreman_id,
        "par_list": "\n".join(crew.par_list),
        "version": crew.version,
    }


class MemberForm(PeopleForm):
    """One pair of hands."""

    name = forms.CharField(label="Name", max_length=120)
    grade = forms.ChoiceField(label="Grade", choices=GRADES, initial="installer")
    user = forms.ModelChoiceField(
        label="Signs in as",
        queryset=User.objects.none(),
        required=False,
        empty_label="Does not sign in",
        help_text="Then this crew's sheet is the person's first page.",
    )
    version = version_field()


class WageForm(PlainForm):
    """What an hour of a person costs."""

    wage = _amount("Wage an hour", "Before the burden, in the company's currency.")
    burden_percent = forms.IntegerField(
        label="Burden, percent",
        min_value=0,
        max_value=200,
        help_text="Taxes, insurance and paid time off on top of the wage.",
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "size": 4}),
    )
    version = version_field()


def wage_of(member: CrewMember) -> dict[str, Any]:
    """Return a person's wage as its form reads it, so that an equal amount is no difference."""
    cents = member.wage_cents
    return {
        "wage": None if cents is None else Decimal(cents).scaleb(-2),
        "burden_percent": member.burden_percent,
        "version": member.version,
    }


class RentalsForm(PlainForm):
    """What a ladder and a lift cost for a day."""

    ladder = _amount("Ladder, a day", "What a day of ladders costs the company, its own ones too.")
    lift = _amount("Lift, a day", "Rent of a lift for a day.")
    source = forms.CharField(
        label="Where the figures come from",
        max_length=200,
        help_text="A price list, an invoice, an estimate.",
    )
    version = version_field()


def money_of(amount: Decimal, currency: str) -> Money:
    """Return a form's amount as money."""
    return Money.of(amount, currency)


def _minute(clock: time) -> int:
    return clock.hour * 60 + clock.minute


def _told(minute: int) -> str:
    return f"{minute // 60}:{minute % 60:02d}"
