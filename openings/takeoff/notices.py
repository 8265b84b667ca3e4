"""What is worth knowing about an opening's takeoff without being wrong. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from openings.takeoff.demand import Bead, Fasteners, Line, Rod
from openings.takeoff.geometry import Geometry
from openings.takeoff.rules.beads import sill_bead_length
from openings.takeoff.rules.fasteners import SHORTEST_SPAN
from openings.takeoff.rules.rule import SILL
from openings.takeoff.terms import Terms
from projects.quantities.length import NM_PER_INCH, Length
from projects.quantities.text import format_rounded

LEAST_CLEAR = NM_PER_INCH
FILM_BOTH_WAYS = NM_PER_INCH // 8


class Notice(NamedTuple):
    """One remark. `by_settings`: it follows from the choices alone, so it is said once where all have it."""

    text: str
    by_settings: bool = False


def notices_of_choices(geometry: Geometry, terms: Terms) -> tuple[Notice, ...]:
    """Return what the choices of `geometry` make worth knowing, whatever its sizes."""
    texts = (*_of_method(geometry, terms), *_of_squeeze(terms))
    return tuple(Notice(text, by_settings=True) for text in texts)


def notices_of_sizes(geometry: Geometry, terms: Terms, lines: Sequence[Line]) -> tuple[Notice, ...]:
    """Return what the sizes of `geometry` make worth knowing, line by line."""
    notices: list[Notice] = []
    if not sill_bead_length(geometry, terms):
        notices.extend(_of_beads(lines))
    # picked by kind first: there are many lines, and few have anything to tell
    for line in [line for line in lines if type(line) in _BY_KIND]:
        notices += _BY_KIND[type(line)](line, terms)
    notices.extend(_of_gaps(geometry, terms))
    return tuple(notices)


def weep_clearance(terms: Terms) -> int:
    """Return how much of a weep gap stays clear in nanometres once the back bead is squeezed out.

    A squeezed bead spreads at its end by up to section / (2 x film), film 1/16 in (derived).
    """
    return terms.weep_nm - terms.back_section.nm2 // FILM_BOTH_WAYS


def _of_method(geometry: Geometry, terms: Terms) -> Iterable[str]:
    for caution in terms.method.cautions:
        if caution.when.holds(terms.choices):
            yield caution.text
    asked = terms.specification.over_fin
    if geometry.over_fin is None and asked is not None and asked != terms.choices.over_fin:
        yield f"Over fin {asked} does not hold in method {terms.method.code}: {terms.method.over_fin_reason}."
    if terms.head_fasteners == "loose":
        yield "Head fasteners stand loose in their slots, as the maker's schedule says."


def _of_squeeze(terms: Terms) -> Iterable[str]:
    if terms.has_pan and weep_clearance(terms) < LEAST_CLEAR:
        yield (
            f'A squeezed back bead may leave less than 1" of the {_inches(terms.weep_nm)} weep gaps clear: '
            "look, or make the gaps longer."
        )


def _of_beads(lines: Sequence[Line]) -> Iterable[Notice]:
    for line in lines:
        if isinstance(line, Bead) and not line.length_nm:
            yield Notice(f"{line.zone}: the two weep gaps leave no room for a {line.part}.")


def _of_rod(line: Rod, terms: Terms) -> Sequence[Notice]:
    if line.diameter_nm is not None:
        return ()
    return (Notice(f"{line.zone}: the gap is too wide for any stock backer rod."),)


def _of_fasteners(line: Fasteners, terms: Terms) -> Sequence[Notice]:
    _, zone, side_nm, corner_nm, spaces, _ = line
    span_nm = side_nm - 2 * corner_nm
    notices: list[Notice] = []
    if zone == SILL and terms.has_pan and (corner_nm if spaces else side_nm // 2) <= terms.weep_nm:
        notices.append(_in_weep_gaps(terms.weep_nm))
    if not spaces:
        span, least = _inches(max(0, span_nm)), _inches(SHORTEST_SPAN)
        notices.append(Notice(f"{zone}: one fastener at the middle, for the span is {span}, below {least}."))
    elif span_nm < terms.least_spacing_nm * spaces:
        spacing, least = _inches(span_nm // spaces), _inches(terms.least_spacing_nm)
        words = f"{zone}: fasteners {spacing} apart, below the {least} minimum; none is left out."
        notices.append(Notice(words))
    return notices


_BY_KIND: Mapping[type, Callable[[Any, Terms], Sequence[Notice]]] = {Rod: _of_rod, Fasteners: _of_fasteners}


@lru_cache(maxsize=64)
def _in_weep_gaps(weep_nm: int) -> Notice:
    return Notice(
        f"The end fasteners of the sill stand inside or at the edge of the {_inches(weep_nm)} weep gaps: "
        "dab their heads with sealant.",
        by_settings=True,
    )


def _of_gaps(geometry: Geometry, terms: Terms) -> Iterable[Notice]:
    if terms.choices.air_seal == "none":
        return
    if geometry.ro_height_nm == geometry.unit_height_nm:
        yield Notice("RO and unit are equally high: no gap for the inside seal at head and sill.")
    if geometry.ro_width_nm == geometry.unit_width_nm:
        yield Notice("RO and unit are equally wide: no gap for the inside seal at the jambs.")


def _inches(nm: int) -> str:
    return format_rounded(Length(nm))
