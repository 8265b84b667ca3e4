"""Forms of a house's copy and of an elevation."""

from __future__ import annotations

from django import forms

from projects.forms.houses import code_field
from projects.forms.plain import PlainForm, version_field
from projects.models import Access
from projects.services import READINESS


class CopyForm(PlainForm):
    """What the copy is called."""

    code = code_field("House code", "LOT-12")
    name = forms.CharField(label="House name or lot", max_length=120)


class ElevationForm(PlainForm):
    """How an elevation is reached, and what must be true before a crew starts on it."""

    name = forms.CharField(label="Elevation", max_length=64)
    access = forms.ChoiceField(
        label="Reached from", choices=Access.choices, help_text="Ladder and lift take longer per opening."
    )
    framing_ready = forms.BooleanField(label="Framing is done", required=False)
    sheathing_ready = forms.BooleanField(label="Sheathing is done", required=False)
    roof_dried_in = forms.BooleanField(label="Roof is dried in", required=False)
    wrb_ready = forms.BooleanField(
        label="WRB is on, where the method wants it before the window", required=False
    )
    access_ready = forms.BooleanField(label="The wall can be reached safely", required=False)
    version = version_field()

    @property
    def ready(self) -> list[str]:
        """Return the ticks that are set."""
        return [tick for tick in READINESS if self.cleaned_data[tick]]
