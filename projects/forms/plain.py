"""The form every page uses: our own words at every field, and refusals of services put where they belong."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS

from projects.errors import UserError
from projects.messages import FIELD_WORDS, words


class PlainForm(forms.Form):
    """A form whose errors say what is wrong and what to do."""

    use_required_attribute = False

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Give every field our words for what Django finds, and no colon after its label."""
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        for name, field in self.fields.items():
            label = str(field.label or name.replace("_", " ").capitalize())
            field.label = label
            own = {code: text.replace("{label}", label) for code, text in FIELD_WORDS.items()}
            field.error_messages = {**field.error_messages, **own, **self.words_of(name)}

    def words_of(self, name: str) -> dict[str, str]:
        """Return words for one field that say more than the usual ones, by the validator's code."""
        return {}

    def refuse(self, error: UserError) -> None:
        """Show a service's refusal at the field it names, else above the form."""
        field = str(error.parameters.get("field") or "")
        self.add_error(field if field in self.fields else None, words(error))

    @property
    def refusals(self) -> list[tuple[str, str]]:
        """Return what the error summary lists: the field's id (empty for the whole form) and the words."""
        found = []
        for name, errors in self.errors.items():
            place = "" if name == NON_FIELD_ERRORS else self[name].auto_id or ""
            found += [(str(place), str(error)) for error in errors]
        return found

    @property
    def seen_version(self) -> int:
        """Return the version of the row that the person saw; 0, which no row has, where the form lost it."""
        return int(self.cleaned_data.get("version") or 0)


def version_field() -> forms.IntegerField:
    """Return the hidden field that carries the version a person saw."""
    return forms.IntegerField(widget=forms.HiddenInput, min_value=1, required=False)
