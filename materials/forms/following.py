"""The forms of what follows an issued order."""

from __future__ import annotations

from django import forms

from projects.forms.plain import PlainForm


class AcknowledgeForm(PlainForm):
    """What the supplier answered."""

    note = forms.CharField(
        label="What the supplier said",
        max_length=200,
        required=False,
        help_text="Such as another price or day; leave it empty where he takes it as it is.",
    )


class CancelForm(PlainForm):
    """Why an order is not wanted any more."""

    reason = forms.CharField(
        label="Reason", max_length=200, help_text="It goes to the supplier with the cancellation."
    )
