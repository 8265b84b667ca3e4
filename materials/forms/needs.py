"""The form of a house's need dates, one field per elevation."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django import forms

from projects.forms.plain import PlainForm, version_field
from projects.models import Elevation


class NeedDatesForm(PlainForm):
    """The working day of each elevation; empty takes the day away."""

    elevations: Sequence[Elevation] = ()
    version = version_field()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Make a field per elevation."""
        super().__init__(*args, **kwargs)
        for elevation in self.elevations:
            self.fields[self.name_of(elevation)] = forms.DateField(
                label=elevation.name,
                required=False,
                widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
                error_messages={"invalid": f"{elevation.name} has no such day. Write it as 2026-06-08."},
            )

    @classmethod
    def of(cls, elevations: Sequence[Elevation]) -> type[NeedDatesForm]:
        """Return the form for a house's elevations."""
        return type("NeedDatesForm", (cls,), {"elevations": elevations})

    @staticmethod
    def name_of(elevation: Elevation) -> str:
        """Return the field's name."""
        return f"day-{elevation.pk}"

    def day(self, elevation: Elevation) -> date | None:
        """Return the day that was given."""
        found: date | None = self.cleaned_data[self.name_of(elevation)]
        return found
