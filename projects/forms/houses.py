"""Forms of projects, houses and the lists' filter."""

from __future__ import annotations

from django import forms
from django.core.exceptions import ValidationError

from projects.errors import BadValue
from projects.forms.plain import PlainForm, version_field
from projects.texts import clean_code

CODE_HELP = "For lists and commands: letters, digits, hyphens, points. For example {example}."


class CodedForm(PlainForm):
    """A form of something with a code."""

    code_called = "Code"

    def clean_code(self) -> str:
        """Return the code as commands take it."""
        try:
            return clean_code(self.cleaned_data["code"], field="code", what=self.code_called)
        except BadValue as error:
            raise ValidationError(str(error)) from error


def code_field(label: str, example: str) -> forms.CharField:
    """Return a field for a code."""
    return forms.CharField(
        label=label,
        max_length=32,
        help_text=CODE_HELP.format(example=example),
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false", "size": 16}),
    )


class ProjectForm(CodedForm):
    """A builder's project."""

    code_called = "Project code"

    code = code_field("Project code", "ALDER")
    name = forms.CharField(label="Project name", max_length=120)
    builder = forms.CharField(
        label="Builder",
        max_length=120,
        help_text="The headers of this builder's window schedules are remembered under this name.",
    )
    delivery_place = forms.CharField(
        label="Delivery place",
        max_length=200,
        required=False,
        help_text="Where trucks unload; it goes on the orders.",
    )
    weather_place = forms.CharField(
        label="Weather place",
        max_length=120,
        required=False,
        help_text="The forecast of this place sets the waits.",
    )
    version = version_field()


class HouseForm(CodedForm):
    """A house of a project."""

    code_called = "House code"

    code = code_field("House code", "LOT-12")
    name = forms.CharField(label="House name or lot", max_length=120)
    plan_name = forms.CharField(
        label="Plan", max_length=120, required=False, help_text="The builder's plan that this house repeats."
    )
    pre_1978 = forms.BooleanField(
        label="Built before 1978",
        required=False,
        help_text="Its crew sheets then ask for lead-safe work, and say who decides.",
    )
    version = version_field()
