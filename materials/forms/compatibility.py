"""The forms of which kinds are used together, and of who answers for two of them."""

from __future__ import annotations

from django import forms

from materials.compatibility.load import load_pairs
from materials.compatibility.table import Part
from projects.forms.plain import PlainForm, version_field


class KindsForm(PlainForm):
    """Which kinds of sealant, membrane, fin and WRB are used; several of a part where both are."""

    kinds = forms.MultipleChoiceField(
        label="Kinds in use", required=False, widget=forms.CheckboxSelectMultiple
    )
    version = version_field()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer every kind of the table."""
        super().__init__(*args, **kwargs)
        self.fields["kinds"].choices = [  # type: ignore[attr-defined]
            (kind.key, kind.name) for kind in load_pairs().kinds.values()
        ]

    @property
    def groups(self) -> list[tuple[str, list[object]]]:
        """Return the ticks by part, each part with its own heading."""
        ticks = {str(tick.data["value"]): tick for tick in self["kinds"].subwidgets}
        table = load_pairs()
        return [(part.value, [ticks[kind.key] for kind in table.of(part)]) for part in Part]


class TakeOnForm(PlainForm):
    """Who answers for two kinds, and why."""

    person = forms.CharField(
        label="Who answers for it",
        max_length=120,
        help_text="The person's full name. It stands on the project for good.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    reason = forms.CharField(
        label="Why",
        max_length=300,
        help_text="Such as what the maker said, on which day, or what was tried.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
