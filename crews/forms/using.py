"""What a crew used at one house, in pieces of each kind within its reach."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms

from materials.selectors.houses import ToUse
from materials.services import Used
from projects.forms.plain import PlainForm

MOST = 99_999


class UsedForm(PlainForm):
    """How many pieces were used of each kind; what is left empty was not used."""

    key = forms.CharField(widget=forms.HiddenInput, max_length=32)
    lines: Sequence[ToUse] = ()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Make a field per kind, with what was probably used in it."""
        super().__init__(*args, **kwargs)
        for line in self.lines:
            self.fields[_name(line)] = forms.IntegerField(
                label=f"{line.name}, {line.piece}",
                min_value=0,
                max_value=MOST,
                required=False,
                initial=line.proposed or None,
                widget=forms.NumberInput(attrs={"inputmode": "numeric", "size": 5}),
            )

    @classmethod
    def of(cls, lines: Sequence[ToUse]) -> type[UsedForm]:
        """Return the form for what is within reach."""
        return type("UsedForm", (cls,), {"lines": lines})

    @property
    def rows(self) -> list[tuple[ToUse, forms.BoundField]]:
        """Return each kind with its field."""
        return [(line, self[_name(line)]) for line in self.lines]

    @property
    def used(self) -> list[Used]:
        """Return what was filled in."""
        given = self.cleaned_data
        return [
            Used(line.material, line.piece_size, given[_name(line)])
            for line in self.lines
            if given.get(_name(line))
        ]


def _name(line: ToUse) -> str:
    return f"pieces-{line.material}-{line.piece_size}"
