"""The weather as people typed it in, and in words for a day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from crews.models import Forecast
from projects.models import Company, Project
from projects.selectors import version_of

SET_FORECAST = "set forecast"
WORKING_QUARTERS = ("morning", "afternoon")
WINDY_MPH = 25  # field guide 8 (C): large units are not set above it
COLD_TENTH_C = 44  # 40 F: what sealant wants at least (facts.md 5, P)
Key = tuple[str, date]


@dataclass(frozen=True, slots=True)
class DayShown:
    """One day at one place: what it is like while a crew works, None where nobody has typed it in."""

    place: str
    day: date
    quarters: Mapping[str, Forecast]

    @property
    def is_known(self) -> bool:
        """Return whether the weather of the hours at work is there."""
        return all(name in self.quarters for name in WORKING_QUARTERS)

    @property
    def temperature(self) -> str:
        """Return the span of temperatures at work: 48 to 63 °F."""
        worked = [row.temp_tenth_c for row in self._at_work()]
        low, high = in_fahrenheit(min(worked)), in_fahrenheit(max(worked))
        return f"{low} °F" if low == high else f"{low} to {high} °F"

    @property
    def humidity(self) -> str:
        """Return the span of humidities at work."""
        worked = [row.rh_percent for row in self._at_work()]
        return f"{min(worked)} to {max(worked)} %" if min(worked) != max(worked) else f"{worked[0]} %"

    @property
    def wet(self) -> str:
        """Return when it rains, empty where it stays dry."""
        wet = [name for name in WORKING_QUARTERS if self.quarters[name].rain]
        return f"rain, {' and '.join(wet)}" if wet else ""

    @property
    def wind(self) -> str:
        """Return the strongest wind at work, empty where no unit minds it."""
        strongest = max(row.wind_mph for row in self._at_work())
        return f"wind {strongest} mph" if strongest > WINDY_MPH else ""

    @property
    def cold(self) -> str:
        """Return when it is too cold for most sealants."""
        cold = [name for name in WORKING_QUARTERS if self.quarters[name].temp_tenth_c < COLD_TENTH_C]
        return f"cold {' and '.join(cold)}" if cold else ""

    @property
    def marks(self) -> tuple[str, ...]:
        """Return rain, wind and cold in two words each, for the head of a narrow column."""
        wet = _halves([name for name in WORKING_QUARTERS if self.quarters[name].rain])
        cold = _halves([n for n in WORKING_QUARTERS if self.quarters[n].temp_tenth_c < COLD_TENTH_C])
        told = (f"rain{wet}" if wet is not None else "", self.wind.removesuffix(" mph"))
        return tuple(word for word in (*told, f"cold{cold}" if cold is not None else "") if word)

    @property
    def span(self) -> str:
        """Return the span of temperatures at work in the fewest letters: 48–63°."""
        worked = [row.temp_tenth_c for row in self._at_work()]
        low, high = in_fahrenheit(min(worked)), in_fahrenheit(max(worked))
        return f"{low}°" if low == high else f"{low}–{high}°"

    def _at_work(self) -> list[Forecast]:
        return [self.quarters[name] for name in WORKING_QUARTERS]


def _halves(quarters: Sequence[str]) -> str | None:
    """Return which half of the working day: nothing for both, None for neither."""
    if not quarters:
        return None
    return "" if len(quarters) > 1 else {"morning": " a.m.", "afternoon": " p.m."}[quarters[0]]


def in_fahrenheit(tenth_c: int) -> int:
    """Return tenths of a degree Celsius in whole degrees Fahrenheit, half up."""
    return (tenth_c * 18 + 3200 + 50) // 100


def places_of(company: Company) -> list[str]:
    """Return the weather places of the company's live projects, by name."""
    rows = Project.objects.of(company).filter(archived=False).exclude(weather_place="")
    return sorted(set(rows.values_list("weather_place", flat=True)))


def days_shown(company: Company, places: Iterable[str], days: Sequence[date]) -> dict[Key, DayShown]:
    """Return each place's weather on each of the days. One query."""
    wanted = list(places)
    found: dict[Key, dict[str, Forecast]] = {}
    rows = Forecast.objects.of(company).filter(place__in=wanted, date__in=days)
    for row in rows:
        found.setdefault((row.place, row.date), {})[row.quarter] = row
    return {
        (place, day): DayShown(place, day, found.get((place, day), {})) for place in wanted for day in days
    }


def weather_version(company: Company, shown: DayShown) -> int:
    """Return the version of a day's weather at a place."""
    return version_of(company, list(shown.quarters.values()), SET_FORECAST)


def week_from(day: date, count: int = 7) -> list[date]:
    """Return `count` days from `day` on."""
    return [day + timedelta(days=number) for number in range(count)]
