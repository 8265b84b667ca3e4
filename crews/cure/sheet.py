"""What a material's sheet states of times and temperatures, each value with its grade and source. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Generic, TypeVar

from projects.errors import BadValue
from projects.quantities.duration import Duration, Temperature
from projects.quantities.length import Length

Quantity = TypeVar("Quantity")

COMMON_PRACTICE = "common practice, no source; the maker's sheet overrules"
GRADES = ("P", "M", "C", "D", "E")


@dataclass(frozen=True, slots=True)
class Stated(Generic[Quantity]):
    """A value with its grade (P, M, C, D or E) and where it comes from."""

    value: Quantity
    grade: str = "C"
    source: str = COMMON_PRACTICE

    def __post_init__(self) -> None:
        """Refuse a grade that isn't one, and a value without a source."""
        if self.grade not in GRADES or not self.source.strip():
            raise BadValue(
                problem=f"A sheet's value has grade {self.grade!r} and source {self.source!r}.",
                remedy="Give a grade of P, M, C, D or E and say where the value comes from.",
                value=self.grade,
            )


@dataclass(frozen=True, slots=True)
class Warmth:
    """The temperatures between which a material may be applied, both included."""

    coldest: Stated[Temperature]
    hottest: Stated[Temperature]

    def __post_init__(self) -> None:
        """Refuse a material that is never warm enough."""
        if self.coldest.value >= self.hottest.value:
            raise BadValue(
                problem="The lowest temperature is not below the highest.",
                remedy="Check the sheet's temperature limits.",
                value=self.coldest.value.in_fahrenheit,
            )


def between(coldest_f: int, hottest_f: int, *, grade: str = "C", source: str = COMMON_PRACTICE) -> Warmth:
    """Return the span from `coldest_f` to `hottest_f`, in degrees Fahrenheit."""
    return Warmth(
        Stated(Temperature.fahrenheit(coldest_f), grade, source),
        Stated(Temperature.fahrenheit(hottest_f), grade, source),
    )


UFGS_SEALANT = between(40, 90, grade="P", source="UFGS 07 92 00 (older edition)")
MILD = between(40, 120)


@dataclass(frozen=True, slots=True)
class SealantSheet:
    """A one-part sealant's times at 23 C and 50 %, its depth after 24 h there, and when it may be run.

    `full_cure` is the maker's, None where the sheet doesn't give one. Defaults are the demo's.
    """

    name: str = "sealant"
    warmth: Warmth = UFGS_SEALANT
    skin_over: Stated[Duration] = Stated(Duration(30 * 60))
    tooling_time: Stated[Duration] = Stated(Duration(10 * 60))
    tack_free: Stated[Duration] = Stated(Duration(60 * 60))
    depth_per_day: Stated[Length] = Stated(Length(3_200_000))
    full_cure: Stated[Duration] | None = None

    def __post_init__(self) -> None:
        """Refuse times of nothing, and a sealant that never cures."""
        _refuse_no_time(self.name, "skin-over time", stated=self.skin_over)
        _refuse_no_time(self.name, "tooling time", stated=self.tooling_time)
        _refuse_no_time(self.name, "tack-free time", stated=self.tack_free)
        if self.depth_per_day.value.nm <= 0:
            raise BadValue(
                problem=f"{self.name}: the depth after 24 h is not above 0.",
                remedy="Give the sheet's depth after a day at 23 °C and 50 %.",
                value=self.depth_per_day.value.in_mm,
            )


@dataclass(frozen=True, slots=True)
class PrimerSheet:
    """A primer: how long it flashes off before it is covered, and how long it stays open for that."""

    name: str = "primer"
    warmth: Warmth = MILD
    flash_off: Stated[Duration] = Stated(Duration(10 * 60))
    open_time: Stated[Duration] = Stated(Duration(8 * 3600))

    def __post_init__(self) -> None:
        """Refuse a primer that dries out before it may be covered."""
        if self.open_time.value <= self.flash_off.value:
            raise BadValue(
                problem=f"{self.name}: it closes before its flash-off is over.",
                remedy="Give an open time longer than the flash-off.",
                value=self.open_time.value.in_minutes,
            )


@dataclass(frozen=True, slots=True)
class MembraneSheet:
    """A self-adhered membrane or tape, or a foam: when it may be applied."""

    name: str = "membrane"
    warmth: Warmth = MILD


Sheet = SealantSheet | PrimerSheet | MembraneSheet


def _refuse_no_time(name: str, what: str, *, stated: Stated[Duration]) -> None:
    if stated.value.seconds <= 0:
        raise BadValue(
            problem=f"{name}: the {what} is not above 0.",
            remedy="Give the sheet's minutes.",
            value=stated.value.in_minutes,
        )


# The demo's sheets; the functions above must exist before the first one is built.
DEMO_SEALANT = SealantSheet()
ASPHALTIC = MembraneSheet(name="asphaltic membrane")
BUTYL = MembraneSheet(name="butyl membrane", warmth=between(25, 120))
# By the material words of the methods. What is not here is put on in any weather.
DEMO_SHEETS: Mapping[str, Sheet] = MappingProxyType(
    {
        "sealant": DEMO_SEALANT,
        "backer rod and sealant": DEMO_SEALANT,
        "primer": PrimerSheet(),
        "membrane": BUTYL,
        "stretch membrane": BUTYL,
        "pan corner": BUTYL,
        "corner patch": BUTYL,
        "wrb tape": MembraneSheet(name="WRB tape", warmth=between(25, 120)),
        "foam": MembraneSheet(name="foam", warmth=between(40, 100)),
    }
)
