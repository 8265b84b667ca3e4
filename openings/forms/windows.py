"""The forms of windows: what is ticked at the truck, a label that says another size, damage, sending back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from openings.services import SentPhoto
from openings.services.windows import MOST_PHOTOS
from openings.takeoff.opening import LARGEST, SMALLEST
from openings.windows.standing import Size
from projects.errors import BadValue
from projects.forms.plain import PlainForm
from projects.photos import LIMITS
from projects.quantities.length import Length
from projects.quantities.text import parse_length

_TICK = re.compile(r"([1-9][0-9]{0,17})-([1-9][0-9]{0,17})-([1-9][0-9]{0,17})")


def key_field() -> forms.CharField:
    """Return the hidden field that makes a form sent twice count once."""
    return forms.CharField(widget=forms.HiddenInput, max_length=64)


class TicksField(forms.Field):
    """Ticks as the page writes them: opening, width and height in nanometres."""

    widget = forms.CheckboxSelectMultiple

    def clean(self, value: Any) -> list[tuple[int, Size]]:
        """Return each opening with its size. Refuses what no page of ours has written."""
        found = [_TICK.fullmatch(text) for text in value or []]
        if not all(found):
            raise forms.ValidationError("A tick can't be read. Reload the page and tick again.")
        numbers = [[int(part) for part in match.groups()] for match in found if match]
        return [(pk, Size(Length(width), Length(height))) for pk, width, height in numbers]


def _length_field(label: str) -> forms.CharField:
    widget = forms.TextInput(attrs={"autocomplete": "off", "size": 14})
    return forms.CharField(label=label, max_length=40, widget=widget)


class TickForm(PlainForm):
    """The windows that were ticked, each with the size that was read beside it."""

    key = key_field()
    opening = TicksField(label="Windows", required=False)

    @property
    def sizes(self) -> dict[int, Size]:
        """Return the sizes by opening: as the person saw them, whatever the office does meanwhile."""
        return dict(self.cleaned_data.get("opening", ()))


class LabelForm(PlainForm):
    """What the label on the frame says."""

    key = key_field()
    width = _length_field("Width on the label")
    height = _length_field("Height on the label")

    def clean_width(self) -> Length:
        """Return the width. Refuses what is no length, or none that a window has."""
        return _length(self.cleaned_data["width"])

    def clean_height(self) -> Length:
        """Return the height, alike."""
        return _length(self.cleaned_data["height"])

    @property
    def size(self) -> Size:
        """Return both."""
        return Size(self.cleaned_data["width"], self.cleaned_data["height"])


class _PhotosInput(forms.FileInput):
    allow_multiple_selected = True


class _PhotosField(forms.FileField):
    """Several files of one field, each told apart by the service."""

    def clean(self, data: Any, initial: Any = None) -> Sequence[UploadedFile]:
        """Return the files that came; none is no error."""
        return [file for file in data or [] if file]


class DamageForm(PlainForm):
    """What is damaged, with photos."""

    key = key_field()
    what = forms.CharField(
        label="What is damaged",
        max_length=200,
        help_text="Such as: crack in the lower left corner of the glass.",
    )
    photos = _PhotosField(
        label="Photos",
        required=False,
        help_text=f"Up to {MOST_PHOTOS}: {LIMITS} The place where they were taken is not kept.",
        widget=_PhotosInput(attrs={"accept": "image/jpeg,image/png"}),
    )

    @property
    def sent(self) -> list[SentPhoto]:
        """Return the photos as they came; all together fit into one form."""
        files: Sequence[UploadedFile] = self.cleaned_data["photos"]
        return [SentPhoto(file.name or "", file.read()) for file in files]


class SendBackForm(PlainForm):
    """Why a window goes back."""

    key = key_field()
    why = forms.CharField(label="Why it goes back", max_length=200)


def _length(text: str) -> Length:
    try:
        length = parse_length(text)
    except BadValue as error:
        raise forms.ValidationError(f"{error.problem} {error.remedy}") from error
    if not SMALLEST.nm <= length.nm <= LARGEST.nm:
        raise forms.ValidationError("No window has this size. Read the label again, in inches or mm.")
    return length
