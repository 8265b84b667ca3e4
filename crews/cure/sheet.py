"""What a sealant's and a membrane's sheet states of times and temperatures, with its source. Pure."""

from __future__ import annotations

from dataclasses import dataclass
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
class SealantSheet:
    """A one-part sealant's times at 23 C and 50 %, its depth after 24 h there, and when it may be run.

    `full_cure` is the maker's, None where the sheet doesn't give one. Defaults are the demo's.
    """

    name: str = "sealant"
    skin_over: Stated[Duration] = Stated(Duration(20 * 60))
    tooling: Stated[Duration] = Stated(Duration(10 * 60))
    tack_free: Stated[Duration] = Stated(Duration(60 * 60))
    depth_per_day: Stated[Length] = Stated(Length(3_200_000))
    full_cure: Stated[Duration] | None = None
    coldest: Stated[Temperature] = Stated(
        Temperature.fahrenheit(40), "P", "UFGS 07 92 00 (older edition): 40 to 90 °F"
    )
    hottest: Stated[Temperature] = Stated(
        Temperature.fahrenheit(90), "P", "UFGS 07 92 00 (older edition): 40 to 90 °F"
    )

    def __post_init__(self) -> None:
        """Refuse times of nothing, and a sealant that is never warm enough."""
        _refuse_no_time(self.name, "skin-over time", self.skin_over)
        _refuse_no_time(self.name, "tooling time", self.tooling)
        _refuse_no_time(self.name, "tack-free time", self.tack_free)
        _refuse_crossed(self.name, self.coldest, self.hottest)
        if self.depth_per_day.value.nm <= 0:
            raise BadValue(
                problem=f"{self.name}: the depth after 24 h is not above 0.",
                remedy="Give the sheet's depth after a day at 23 °C and 50 %.",
                value=self.depth_per_day.value.in_mm,
            )


@dataclass(frozen=True, slots=True)
class MembraneSheet:
    """A self-adhered membrane: when it may be applied, and its primer's times, None where it needs none."""

    name: str = "membrane"
    coldest: Stated[Temperature] = Stated(Temperature.fahrenheit(40))
    hottest: Stated[Temperature] = Stated(Temperature.fahrenheit(120))
    flash_off: Stated[Duration] | None = None
    primer_open: Stated[Duration] | None = None

    def __post_init__(self) -> None:
        """Refuse a membrane that is never warm enough, and primer that dries out before it may be covered."""
        _refuse_crossed(self.name, self.coldest, self.hottest)
        if self.flash_off and self.primer_open and self.primer_open.value <= self.flash_off.value:
            raise BadValue(
                problem=f"{self.name}: the primer closes before its flash-off is over.",
                remedy="Give an open time longer than the flash-off.",
                value=self.primer_open.value.in_minutes,
            )


def _refuse_no_time(name: str, what: str, stated: Stated[Duration]) -> None:
    if stated.value.seconds <= 0:
        raise BadValue(
            problem=f"{name}: the {what} is not above 0.",
            remedy="Give the sheet's minutes.",
            value=stated.value.in_minutes,
        )


def _refuse_crossed(name: str, coldest: Stated[Temperature], hottest: Stated[Temperature]) -> None:
    if coldest.value >= hottest.value:
        raise BadValue(
            problem=f"{name}: the lowest temperature is not below the highest.",
            remedy="Check the sheet's temperature limits.",
            value=coldest.value.in_fahrenheit,
        )


# The demo's; the functions above must exist before the first sheet is built.
DEMO_SEALANT = SealantSheet()
ASPHALTIC = MembraneSheet(name="asphaltic membrane")
BUTYL = MembraneSheet(name="butyl membrane", coldest=Stated(Temperature.fahrenheit(25)))
