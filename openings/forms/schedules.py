"""Forms of a window schedule: the file, the match of its headers, the last word."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms
from django.core.files.uploadedfile import UploadedFile

from openings.schedule.limits import MAX_BYTES
from openings.schedule.words import COLUMNS
from projects.forms.plain import PlainForm


class ScheduleForm(PlainForm):
    """The builder's file."""

    schedule = forms.FileField(
        label="Window schedule",
        help_text="CSV or XLSX, as the builder sent it, up to 20 MB and 50,000 rows.",
        widget=forms.FileInput(attrs={"accept": ".csv,.txt,.tsv,.xlsx"}),
    )

    def clean_schedule(self) -> UploadedFile:
        """Return the file. Refuses one that is larger than the limit before it is read."""
        file: UploadedFile = self.cleaned_data["schedule"]
        if file.size is not None and file.size > MAX_BYTES:
            raise forms.ValidationError("The file is larger than 20 MB. Split it and send the parts.")
        return file


class MatchForm(PlainForm):
    """Which of the file's headers means which of our columns; one field per header."""

    def __init__(
        self, *args: object, headers: Sequence[str], chosen: dict[str, str], **kwargs: object
    ) -> None:
        """Offer our columns for each header; `chosen` are those matched already."""
        super().__init__(*args, **kwargs)
        options = [("", "Not used"), *((name, name.replace("_", " ")) for name in COLUMNS)]
        self.headers = list(dict.fromkeys(headers))
        for number, header in enumerate(self.headers):
            self.fields[f"header-{number}"] = forms.ChoiceField(
                label=header, choices=options, required=False, initial=chosen.get(header, "")
            )

    @property
    def match(self) -> dict[str, str]:
        """Return their header to our column, for the headers that were given one."""
        chosen = {header: self.cleaned_data[f"header-{number}"] for number, header in enumerate(self.headers)}
        return {header: column for header, column in chosen.items() if column}

    def clean(self) -> dict[str, object]:
        """Refuse a column that two headers claim."""
        cleaned: dict[str, object] = super().clean() or {}
        taken: dict[str, str] = {}
        for number, header in enumerate(self.headers):
            column = str(cleaned.get(f"header-{number}") or "")
            if column and column in taken:
                told = f"{taken[column]} and {header} can't both be {column.replace('_', ' ')}. Choose one."
                self.add_error(f"header-{number}", told)
            taken[column] = header
        return cleaned


class ConfirmForm(PlainForm):
    """How a schedule is taken over."""

    keep_good_rows = forms.BooleanField(
        required=False, label="Keep the good rows, leave the refused ones out"
    )
    remove_missing = forms.BooleanField(required=False, label="Remove the openings that are not in the file")
