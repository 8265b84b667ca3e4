"""The form of a roll that was cut: what is left and kept."""

from __future__ import annotations

from django import forms

from projects.errors import BadValue
from projects.forms.plain import PlainForm
from projects.messages import words
from projects.quantities.length import Length
from projects.quantities.text import parse_length


class CutForm(PlainForm):
    """How long the rest is that goes back on the shelf; empty where nothing is kept."""

    kept = forms.CharField(
        label="Rest that is kept",
        max_length=64,
        required=False,
        help_text="Its length: 11'-4\" or 136. Leave it empty where nothing is kept.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "size": 14}),
    )

    def clean_kept(self) -> Length:
        """Return the length, 0 where nothing is kept."""
        text = self.cleaned_data["kept"].strip()
        if not text:
            return Length(0)
        try:
            return parse_length(text)
        except BadValue as error:
            raise forms.ValidationError(words(error)) from error
