"""The forms of a maker's instruction sheet, and of when one is old."""

from __future__ import annotations

from django import forms
from django.core.files.uploadedfile import UploadedFile

from materials.catalogue.load import load_catalogue
from materials.compatibility.exposure import LONGEST_LIMIT
from materials.models.compatibility import LONGEST_AGE
from materials.services.instructions import LARGEST_BYTES
from projects.forms.plain import PlainForm, version_field


class SheetForm(PlainForm):
    """A sheet as the maker published it."""

    material = forms.ChoiceField(label="Material")
    title = forms.CharField(
        label="Title", max_length=160, help_text="As it stands on the sheet, with its number if it has one."
    )
    dated = forms.DateField(
        label="Date of the sheet",
        help_text="As printed on it: the newest sheet of a material is the one that holds.",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    exposure_days = forms.IntegerField(
        label="Exposure limit in days",
        required=False,
        min_value=1,
        max_value=LONGEST_LIMIT,
        help_text="Membranes alone: how long it may lie open before it is covered.",
    )
    file = forms.FileField(
        label="The sheet",
        help_text="A PDF of up to 10 MB.",
        widget=forms.FileInput(attrs={"accept": "application/pdf,.pdf"}),
    )

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer every material of the catalogue."""
        super().__init__(*args, **kwargs)
        self.fields["material"].choices = [  # type: ignore[attr-defined]
            (key, material.name) for key, material in load_catalogue().materials.items()
        ]

    def clean_file(self) -> UploadedFile:
        """Return the file. Refuses one that is larger than the limit before it is read."""
        file: UploadedFile = self.cleaned_data["file"]
        if file.size is not None and file.size > LARGEST_BYTES:
            raise forms.ValidationError("The file is larger than 10 MB. Save the sheet's pages alone.")
        return file


class SheetAgeForm(PlainForm):
    """After how many months a sheet is called old."""

    months = forms.IntegerField(
        label="A sheet is old after so many months", min_value=1, max_value=LONGEST_AGE
    )
    version = version_field()
