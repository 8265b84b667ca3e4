"""What a crew's sheet says: where, when, by whom, what to wait for, what to load, who signs. Pure.

Clock times are whole minutes after midnight at the site; lengths whole nanometres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

OVERRULED_BY = (
    "Follow the manufacturer's instructions, the local code and the licensed or certified person responsible."
)


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step: when, by which pairs of hands, and in words what it waited for or must not miss.

    `wait_until` is the minute before which it may not start: so long after `waits_for`, which ended at
    `wait_from`. `before` is the minute by which it must have started.
    """

    code: str
    label: str
    start: int
    end: int
    hands: tuple[int, ...]
    wait_from: int | None = None
    wait_until: int | None = None
    waits_for: str = ""
    before: int | None = None
    why: str = ""
    notes: tuple[str, ...] = ()

    @property
    def people(self) -> int:
        """Return how many do it together."""
        return len(self.hands)


@dataclass(frozen=True, slots=True)
class SheetHold:
    """Work stops until `signs` has looked; `step` is the step's words, `is_before` on which side of it.

    `at` is the minute of the day, None where the step is one that others do.
    """

    mark: str
    code: str
    step: str
    is_before: bool
    label: str
    looks: tuple[str, ...]
    signs: str
    at: int | None


@dataclass(frozen=True, slots=True)
class HoldGroup:
    """A hold point that several openings share: what it is, and each opening's mark and minute."""

    hold: SheetHold
    marks: tuple[tuple[str, int | None], ...]


@dataclass(frozen=True, slots=True)
class LaterGroup:
    """What waits for others or another day, and at which openings."""

    told: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ScrewLine:
    """Where the screws of one side go, in nanometres from the left, at jambs from the bottom."""

    side: str
    positions_nm: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SheetCaution:
    """One line where a risk arises: the opening or the step it belongs to, and who decides."""

    where: str
    told: str
    who: str


@dataclass(frozen=True, slots=True)
class SheetVisit:
    """One opening of the day. `is_covered`: prepared and covered for the night, to be set another day."""

    opening: int
    house: str
    elevation: str
    mark: str
    is_covered: bool
    method: str
    width_nm: int
    height_nm: int
    weight: str
    steps: tuple[SheetStep, ...]
    screws: tuple[ScrewLine, ...]
    holds: tuple[SheetHold, ...]
    cautions: tuple[SheetCaution, ...]
    notes: tuple[str, ...]
    later: tuple[str, ...]

    @property
    def start(self) -> int:
        """Return when its first step starts."""
        return min(step.start for step in self.steps)

    @property
    def end(self) -> int:
        """Return when its last step ends."""
        return max(step.end for step in self.steps)


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One thing to load: what, how much, and for what."""

    what: str
    quantity: str
    why: str


@dataclass(frozen=True, slots=True)
class LeftOver:
    """An opening that does not fit the day, with the reason."""

    opening: int
    house: str
    elevation: str
    mark: str
    why: str


@dataclass(frozen=True, slots=True)
class ShutGate:
    """A span of the day in which the weather shuts a kind of work."""

    start: int
    end: int
    work: str
    reason: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A crew's day."""

    crew: str
    crew_name: str
    day: str
    start: int
    end: int
    set_up_until: int
    clean_up_from: int
    breaks: tuple[tuple[int, int], ...]
    people: tuple[str, ...]
    places: tuple[str, ...]
    weather: tuple[str, ...]
    visits: tuple[SheetVisit, ...]
    load: tuple[LoadLine, ...]
    par_list: tuple[str, ...]
    cautions: tuple[SheetCaution, ...]
    gates: tuple[ShutGate, ...]
    left_over: tuple[LeftOver, ...]
    notices: tuple[str, ...]
    made_from: tuple[str, ...]

    @property
    def finished(self) -> int:
        """Return how many openings are finished today; one that is covered for the night is not."""
        return sum(not visit.is_covered for visit in self.visits)

    @property
    def done(self) -> int | None:
        """Return when the last step ends, None where there is none."""
        return max((visit.end for visit in self.visits), default=None)

    @property
    def holds(self) -> tuple[SheetHold, ...]:
        """Return every hold point, in the order of the openings."""
        return tuple(hold for visit in self.visits for hold in visit.holds)

    @property
    def hold_groups(self) -> tuple[HoldGroup, ...]:
        """Return the hold points, each once with its openings in order of time; those of others last."""
        groups: dict[tuple[str, bool], list[SheetHold]] = {}
        for hold in self.holds:
            groups.setdefault((hold.code, hold.is_before), []).append(hold)
        found = [
            HoldGroup(holds[0], tuple((hold.mark, hold.at) for hold in sorted(holds, key=_when)))
            for holds in groups.values()
        ]
        return tuple(sorted(found, key=lambda group: _when(group.hold)))

    @property
    def later_groups(self) -> tuple[LaterGroup, ...]:
        """Return what is for later, each once with its openings."""
        groups: dict[str, list[str]] = {}
        for visit in self.visits:
            for told in visit.later:
                groups.setdefault(told, []).append(visit.mark)
        return tuple(LaterGroup(told, tuple(marks)) for told, marks in groups.items())

    @property
    def all_cautions(self) -> tuple[SheetCaution, ...]:
        """Return the day's cautions and each opening's."""
        return (*self.cautions, *(caution for visit in self.visits for caution in visit.cautions))


def _when(hold: SheetHold) -> tuple[bool, int]:
    return hold.at is None, hold.at or 0


def sheet_as_json(sheet: Sheet) -> dict[str, Any]:
    """Return the sheet as plain values, as a plan's row keeps it."""
    return asdict(sheet)


def sheet_from_json(kept: Mapping[str, Any]) -> Sheet:
    """Return the sheet that `sheet_as_json` gave."""
    flat = dict(kept)
    flat["breaks"] = tuple((start, end) for start, end in kept["breaks"])
    for name in ("people", "places", "weather", "par_list", "notices", "made_from"):
        flat[name] = tuple(kept[name])
    flat["visits"] = tuple(_visit(each) for each in kept["visits"])
    flat["load"] = tuple(LoadLine(**each) for each in kept["load"])
    flat["cautions"] = tuple(SheetCaution(**each) for each in kept["cautions"])
    flat["gates"] = tuple(ShutGate(**each) for each in kept["gates"])
    flat["left_over"] = tuple(LeftOver(**each) for each in kept["left_over"])
    return Sheet(**flat)


def _visit(kept: Mapping[str, Any]) -> SheetVisit:
    flat = dict(kept)
    flat["steps"] = tuple(
        SheetStep(**{**each, "hands": tuple(each["hands"]), "notes": tuple(each["notes"])})
        for each in kept["steps"]
    )
    flat["screws"] = tuple(ScrewLine(each["side"], tuple(each["positions_nm"])) for each in kept["screws"])
    flat["holds"] = tuple(SheetHold(**{**each, "looks": tuple(each["looks"])}) for each in kept["holds"])
    flat["cautions"] = tuple(SheetCaution(**each) for each in kept["cautions"])
    for name in ("notes", "later"):
        flat[name] = tuple(kept[name])
    return SheetVisit(**flat)
