"""The form that allows strips of a material to be spliced."""

from __future__ import annotations

from django import forms

from materials.catalogue.load import load_catalogue
from projects.forms.plain import PlainForm


class SpliceForm(PlainForm):
    """Of which material, and by how much the two overlap."""

    material = forms.ChoiceField(label="Material")
    lap = forms.CharField(label="Lap", max_length=40, help_text="At least 4 in: 4, 6 or 150 mm.")

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer what is cut from rolls and sticks."""
        super().__init__(*args, **kwargs)
        self.fields["material"].choices = [  # type: ignore[attr-defined]
            (material.key, material.name)
            for material in load_catalogue().materials.values()
            if material.unit == "length"
        ]
