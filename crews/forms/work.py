"""The taps of a crew: steps of an opening that are done, or not done after all."""

from __future__ import annotations

from django import forms

from projects.forms.plain import PlainForm

LARGEST_ROW = 2**63 - 1
MOST_STEPS = 64


class StepsField(forms.MultipleChoiceField):
    """Step codes as a page of ours writes them; whether the opening has them is the service's to say."""

    def validate(self, value: list[str]) -> None:
        """Refuse none, too many, and what is longer than any code."""
        if not 0 < len(value) <= MOST_STEPS or any(len(code) > MOST_STEPS for code in value):
            raise forms.ValidationError("The steps can't be read. Reload the sheet and tap again.")


class DoneForm(PlainForm):
    """Which steps of which opening are done; `with_earlier` marks what comes before them too."""

    key = forms.CharField(max_length=64)
    opening = forms.IntegerField(min_value=1, max_value=LARGEST_ROW)
    steps = StepsField()
    with_earlier = forms.BooleanField(required=False)
    from_visit = forms.BooleanField(required=False)


class TakeBackForm(PlainForm):
    """Which step of an entry is taken back; all of them where none is named."""

    only = forms.CharField(max_length=64, required=False)
    from_visit = forms.BooleanField(required=False)
