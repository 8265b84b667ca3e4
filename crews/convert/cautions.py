"""The cautions of a crew's day, each one line where its risk arises, with who decides; no query here.

Source: field guide 12. The app flags and never rules.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from crews.cure.forecast import Forecast
from crews.dayplan.crew_day.day import CrewDay
from crews.dayplan.sheet import SheetCaution
from materials.compatibility.exposure import day_printed
from materials.selectors.compatibility import ProjectPairs
from materials.selectors.instructions import SheetShown
from openings.methods.method import Method
from openings.takeoff.compute import OpeningTakeoff
from projects.models import Access, Elevation, Project

COMPETENT = "The competent person on site decides about guards, nets, anchors and the ladder's footing."
LEAD = "A certified firm and renovator decide."
FOREMAN = "The foreman decides."
LICENSED = "The local code and the licensed person responsible decide."
SHEETS = "The maker's safety sheet decides."
MAKER = "The maker's instruction sheet overrules this one."
OFFICE = "Ask the office before it is used: somebody answers for it by name, or something else is used."
MOST_PAIRS = 2
MEMBRANES = ("membrane", "stretch membrane", "wrb tape")
COLD_F, HOT_F = 40, 90  # E: gloves and warm tubes below, shade and water above


def cautions_of_face(face: Elevation) -> Iterator[SheetCaution]:
    """Yield what holds on all of an elevation: how it is reached, and lead in an old house."""
    where = f"{face.house.code} {face.name}"
    if face.access == Access.LADDER:
        yield SheetCaution(where, "Ladder work beside open wall openings: falls.", COMPETENT)
    if face.access == Access.LIFT:
        yield SheetCaution(where, "Work from the lift beside open wall openings: falls, and wind.", COMPETENT)
    if face.house.pre_1978:
        yield SheetCaution(
            where, "Built before 1978: lead-safe work for every window, whatever its size.", LEAD
        )


def cautions_of_weather(day: CrewDay, forecast: Forecast | None, place: str) -> Iterator[SheetCaution]:
    """Yield cold and heat while the crew is out."""
    if forecast is None:
        return
    worked = [
        hour.air.temp_c * 9 / 5 + 32
        for hour in forecast.hours
        if hour.start.date() == day.day
        and day.start < hour.start.hour * 60 + 60
        and hour.start.hour * 60 < day.end
    ]
    if worked and min(worked) < COLD_F:
        yield SheetCaution(
            place, f"{min(worked):.0f} °F: cold hands slip. Gloves, warm tubes, and warm-up breaks.", FOREMAN
        )
    if worked and max(worked) > HOT_F:
        yield SheetCaution(
            place, f"{max(worked):.0f} °F: water, shade and rest before anybody asks.", FOREMAN
        )


def cautions_of_opening(takeoff: OpeningTakeoff, method: Method) -> Iterator[SheetCaution]:
    """Yield what one opening brings: weight, and flags that want a look."""
    mark = takeoff.opening.mark
    if takeoff.weight is not None and takeoff.needs_lift:
        yield SheetCaution(
            mark,
            f"{takeoff.weight.in_pounds:.0f} lb: a lift sets it, {takeoff.people} people guide it.",
            FOREMAN,
        )
    elif takeoff.weight is not None and takeoff.weight > method.pace.three_above:
        yield SheetCaution(
            mark, f"{takeoff.weight.in_pounds:.0f} lb: {takeoff.people} people lift it together.", FOREMAN
        )
    if takeoff.opening.flags:
        flags = ", ".join(takeoff.opening.flags)
        yield SheetCaution(mark, f"Flagged {flags}: to be looked at, not ruled on here.", LICENSED)


def cautions_of_steps(method: Method, codes: Sequence[str]) -> dict[str, SheetCaution]:
    """Return by step code what its work brings: blades, glass, vapour. A crew reads each once a day."""
    found: dict[str, SheetCaution] = {}
    materials: dict[str, set[str]] = {}
    for layer in method.layers:
        materials.setdefault(layer.step, set()).add(layer.material)
    for code in codes:
        used = materials.get(code, set())
        if used & set(MEMBRANES):
            found[code] = SheetCaution("blades", "Cut away from the hand; blade in, then walk.", FOREMAN)
        elif used & {"sealant", "primer", "foam", "backer rod and sealant"}:
            found[code] = SheetCaution("vapour", "Sealant, primer, foam: fresh air, gloves, eyes.", SHEETS)
        elif "window" in used:
            found[code] = SheetCaution("glass", "Gloves and sleeves; nobody stands below.", FOREMAN)
    return found


def cautions_of_pairs(project: Project, pairs: ProjectPairs) -> Iterator[SheetCaution]:
    """Yield one line on what is used together, is not known to fit, and nobody answers for."""
    if not pairs.open:
        return
    named = "; ".join(pair.judged.told for pair in pairs.open[:MOST_PAIRS])
    more = len(pairs.open) - MOST_PAIRS
    told = f"{named}; and {more} more" if more > 0 else named
    beginning = "Does not fit" if pairs.refused else "Not known to fit"
    yield SheetCaution(project.name, f"{beginning}: {told}.", OFFICE)


def cautions_of_sheets(used: Iterable[str], sheets: Mapping[str, SheetShown]) -> Iterator[SheetCaution]:
    """Yield the maker's sheets that hold for the used materials, by title and date, each once."""
    materials: dict[str, list[str]] = {}
    for sheet in (sheets[key] for key in used if key in sheets):
        old = " It is old: ask whether there is a newer one." if sheet.is_old else ""
        told = f"{sheet.row.title}, {day_printed(sheet.row.dated)}.{old}"
        materials.setdefault(told, []).append(sheet.material)
    for told, names in materials.items():
        yield SheetCaution(", ".join(names), told, MAKER)


def once(cautions: Iterable[SheetCaution]) -> tuple[SheetCaution, ...]:
    """Return the cautions without repeats, in order."""
    return tuple(dict.fromkeys(cautions))
