"""The form of a specification: one field per setting, empty where the one below it holds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from django import forms
from django.forms.boundfield import BoundField

from openings.takeoff.setting import Setting
from openings.takeoff.setting_table import GROUPS
from openings.takeoff.settings import SETTINGS
from openings.takeoff.specification import Specification
from projects.errors import BadValue
from projects.forms.plain import PlainForm


@dataclass(frozen=True, slots=True)
class SettingField:
    """One setting on the page: its row of the table, its field, and what holds where it is empty."""

    setting: Setting
    field: BoundField
    below: str


class SpecificationForm(PlainForm):
    """The settings of a company or project as text; an empty one is not set here."""

    note = forms.CharField(label="What this version is for", max_length=200, required=False)
    source = forms.CharField(
        label="Who stands behind the changed values",
        max_length=200,
        required=False,
        help_text="Such as the maker's sheet with its date, or a named person.",
    )
    below: Specification

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Make a field per setting."""
        super().__init__(*args, **kwargs)
        for name, setting in SETTINGS.items():
            self.fields[name] = _field(setting, setting.text(self.below))

    @classmethod
    def over(cls, below: Specification) -> type[SpecificationForm]:
        """Return the form of settings that lie over `below`."""
        return type("SpecificationForm", (cls,), {"below": below})

    def clean(self) -> dict[str, object]:
        """Refuse, at its field, a text that is not a value of its setting."""
        cleaned: dict[str, object] = super().clean() or {}
        for name, setting in SETTINGS.items():
            text = str(cleaned.get(name) or "").strip()
            try:
                if text:
                    setting.parse(text)
            except BadValue as error:
                self.add_error(name, f"{error.problem} {error.remedy}")
        return cleaned

    @property
    def settings(self) -> dict[str, str]:
        """Return the settings that were given, as text by name."""
        texts = {name: str(self.cleaned_data.get(name) or "").strip() for name in SETTINGS}
        return {name: text for name, text in texts.items() if text}

    def sources(self, before: Mapping[str, str]) -> dict[str, str]:
        """Return who stands behind each setting: as before, and the one named now for the changed ones."""
        named = str(self.cleaned_data.get("source") or "").strip()
        changed = {name for name in self.settings if self.initial.get(name) != self.settings[name]}
        kept = {name: told for name, told in before.items() if name in self.settings}
        return kept | (dict.fromkeys(changed, named) if named else {})

    @property
    def groups(self) -> Iterator[tuple[str, list[SettingField]]]:
        """Return the settings by their headings, in the table's order."""
        for heading, settings in GROUPS:
            yield heading, [SettingField(one, self[one.name], one.text(self.below)) for one in settings]


def _field(setting: Setting, below: str) -> forms.Field:
    if setting.options:
        options = [("", f"{below or 'the method decides'} (not set here)")]
        options += [(option, option) for option in setting.options]
        return forms.ChoiceField(label=setting.label, choices=options, required=False, help_text=setting.help)
    return forms.CharField(
        label=setting.label,
        max_length=200,
        required=False,
        help_text=setting.help,
        widget=forms.TextInput(attrs={"placeholder": below, "autocomplete": "off", "size": 14}),
    )
