"""The form of a day's weather: four quarters, each with temperature, humidity, rain and wind."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField

from crews.models import Forecast
from crews.selectors.weather import in_fahrenheit
from crews.services.forecasts import QUARTERS, QuarterEntry
from projects.forms.plain import PlainForm, version_field

_TEMPERATURE = re.compile(r"([-−]?\d{1,3}(?:\.\d)?)\s*°?\s*([FCfc]?)")
NOT_READ = "{what} can't be read. Write 48 for Fahrenheit, or 9 C."
HOURS = {"night": "0 to 6", "morning": "6 to 12", "afternoon": "12 to 18", "evening": "18 to 24"}


@dataclass(frozen=True, slots=True)
class QuarterRow:
    """One quarter's four fields, for the page."""

    name: str
    hours: str
    temp: BoundField
    rh: BoundField
    wind: BoundField
    rain: BoundField


def _fields(quarter: str) -> dict[str, forms.Field]:
    whole = {"inputmode": "numeric", "size": 4, "autocomplete": "off"}
    return {
        f"{quarter}_temp": forms.CharField(
            label=f"{quarter.capitalize()}: temperature",
            max_length=12,
            widget=forms.TextInput(attrs={"size": 5, "autocomplete": "off"}),
        ),
        f"{quarter}_rh": forms.IntegerField(
            label=f"{quarter.capitalize()}: humidity, percent", widget=forms.TextInput(attrs=whole)
        ),
        f"{quarter}_wind": forms.IntegerField(
            label=f"{quarter.capitalize()}: wind, mph", widget=forms.TextInput(attrs=whole)
        ),
        f"{quarter}_rain": forms.BooleanField(label=f"{quarter.capitalize()}: rain", required=False),
    }


class ForecastForm(PlainForm):
    """A day's weather at a place."""

    version = version_field()

    def clean(self) -> dict[str, Any]:
        """Read the temperatures; what can't be read is told at its field."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for quarter in QUARTERS:
            name = f"{quarter}_temp"
            if name in cleaned:
                try:
                    cleaned[name] = parse_temperature(cleaned[name], what=f"The {quarter}'s temperature")
                except ValidationError as error:
                    self.add_error(name, error)
        return cleaned

    @property
    def quarters(self) -> Mapping[str, QuarterEntry]:
        """Return what the service takes."""
        cleaned = self.cleaned_data
        return {
            quarter: QuarterEntry(
                temp_tenth_c=cleaned[f"{quarter}_temp"],
                rh_percent=cleaned[f"{quarter}_rh"],
                rain=cleaned[f"{quarter}_rain"],
                wind_mph=cleaned[f"{quarter}_wind"],
            )
            for quarter in QUARTERS
        }

    @property
    def rows(self) -> Iterable[QuarterRow]:
        """Yield the quarters for the page."""
        for quarter in QUARTERS:
            fields = {name: self[f"{quarter}_{name}"] for name in ("temp", "rh", "wind", "rain")}
            yield QuarterRow(quarter.capitalize(), HOURS[quarter], **fields)


for _quarter in QUARTERS:
    ForecastForm.base_fields.update(_fields(_quarter))


def parse_temperature(text: str, *, what: str) -> int:
    """Return a temperature in tenths of a degree Celsius; a bare number is Fahrenheit."""
    match = _TEMPERATURE.fullmatch(text.strip())
    if match is None:
        raise ValidationError(NOT_READ.format(what=what))
    number = Fraction(match[1].replace("−", "-"))
    return round(number * 10) if match[2].upper() == "C" else tenths_from(number)


def tenths_from(fahrenheit: Fraction) -> int:
    """Return degrees Fahrenheit as tenths of a degree Celsius."""
    return round((fahrenheit - 32) * Fraction(50, 9))


def told_temperature(tenth_c: int) -> str:
    """Return a temperature as the form reads it back: whole Fahrenheit, else Celsius."""
    fahrenheit = in_fahrenheit(tenth_c)
    if tenths_from(Fraction(fahrenheit)) == tenth_c:
        return str(fahrenheit)
    whole, tenth = divmod(abs(tenth_c), 10)
    return f"{'-' if tenth_c < 0 else ''}{whole}{f'.{tenth}' if tenth else ''} C"


def entry_of(quarters: Mapping[str, Forecast]) -> dict[str, Any]:
    """Return a day's rows as the form shows them."""
    entry: dict[str, Any] = {}
    for quarter, row in quarters.items():
        entry[f"{quarter}_temp"] = told_temperature(row.temp_tenth_c)
        entry[f"{quarter}_rh"] = row.rh_percent
        entry[f"{quarter}_wind"] = row.wind_mph
        entry[f"{quarter}_rain"] = row.rain
    return entry
