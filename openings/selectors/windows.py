"""Where windows stand: of one house, of one opening, of elevations, and the damaged ones of all houses."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Prefetch, QuerySet

from openings.models import Opening, WindowEntry, WindowPhoto, WindowRecord
from openings.selectors.reading import live_openings
from openings.windows.standing import Happened, Kind, Size, Standing, State, fold
from projects.models import Company, Elevation, House
from projects.quantities.length import Length
from projects.selectors import local_today, row_of

_COLUMNS = ("opening_id", "number", "kind", "width_nm", "height_nm", "claim_by", "takes_back__number")
# the order in which a person at the truck needs them
STATES = (State.AWAITED, State.HERE, State.OTHER_SIZE, State.ANEW, State.DAMAGED, State.ACCEPTED)


@dataclass(frozen=True, slots=True)
class WindowShown:
    """One window with the size that its opening's schedule has."""

    opening: Opening
    scheduled: Size
    standing: Standing

    @property
    def tick(self) -> str:
        """Return opening and size as a tick carries them."""
        return f"{self.opening.pk}-{self.scheduled.width.nm}-{self.scheduled.height.nm}"

    @property
    def can_be_accepted(self) -> bool:
        """Return whether its label says what the schedule says."""
        return self.standing.came == self.scheduled


@dataclass(frozen=True, slots=True)
class FaceOfState:
    """The windows of one elevation that stand alike."""

    elevation: Elevation
    windows: tuple[WindowShown, ...]


@dataclass(frozen=True, slots=True)
class StateOfHouse:
    """The windows of a house that stand alike, by elevation."""

    state: State
    faces: tuple[FaceOfState, ...]

    @property
    def count(self) -> int:
        """Return how many windows these are."""
        return sum(len(face.windows) for face in self.faces)


@dataclass(frozen=True, slots=True)
class WindowsPage:
    """A house's windows, by where they stand and by elevation; `last` is what was written down last."""

    house: House
    states: tuple[StateOfHouse, ...]
    last: WindowEntry | None

    @property
    def count(self) -> int:
        """Return how many windows the house has."""
        return sum(each.count for each in self.states)


@dataclass(frozen=True, slots=True)
class WindowPage:
    """One window with all that happened to it, the last first.

    `last` is the entry that may be taken back, `others` how many other windows stand in it.
    """

    shown: WindowShown
    records: tuple[WindowRecord, ...]
    last: WindowEntry | None
    others: int


@dataclass(frozen=True, slots=True)
class DamagedWindow:
    """A damaged window with its reports and photos, and whether its day to claim has passed."""

    shown: WindowShown
    reports: tuple[WindowRecord, ...]
    is_past: bool


def windows_shown(company: Company, openings: Iterable[Opening]) -> list[WindowShown]:
    """Return where the window of each opening stands, in their order. One query."""
    rows = list(openings)
    happened = _happened(WindowRecord.objects.of(company).filter(opening__in=[row.pk for row in rows]))
    return [_shown(row, happened.get(row.pk, ())) for row in rows]


def accepted_openings(company: Company, elevations: Sequence[Elevation]) -> frozenset[int]:
    """Return the openings of these elevations whose window is accepted in the size of today. One query."""
    rows = WindowRecord.objects.of(company).filter(
        opening__elevation__in=[face.pk for face in elevations], opening__removed_at__isnull=True
    )
    happened: dict[int, list[Happened]] = {}
    scheduled: dict[int, Size] = {}
    sizes = ("opening__unit_width_nm", "opening__unit_height_nm")
    for opening, *told, width, height in rows.order_by("number").values_list(*_COLUMNS, *sizes):
        happened.setdefault(opening, []).append(_as_happened(told))
        scheduled[opening] = _size(width, height)
    return frozenset(pk for pk, of in happened.items() if fold(of, scheduled[pk]).state is State.ACCEPTED)


def windows_page(company: Company, pk: int) -> WindowsPage:
    """Return all that the page of a house's windows shows. Raises NotThere."""
    house = row_of(House, company, pk, "project")
    shown = windows_shown(company, _openings(company).filter(house=house))
    return WindowsPage(
        house,
        tuple(state for state in (_of_state(state, shown) for state in STATES) if state.count),
        _last_entry(company, house),
    )


def window_counts(company: Company, openings: Iterable[Opening]) -> Mapping[str, int]:
    """Return how many of a house's windows stand how; nothing that is nil. One query."""
    counts = Counter(each.standing.state for each in windows_shown(company, openings))
    return {state.value: counts[state] for state in STATES if counts[state]}


def window_page(company: Company, pk: int) -> WindowPage:
    """Return one window with its history. Raises NotThere."""
    row = row_of(Opening, company, pk, "house__project", "house__company", "elevation")
    records = list(_with_photos(company).filter(opening=row).order_by("number"))
    (shown,) = [_shown(row, [_plain(record) for record in records])]
    held = [record for record in records if not _is_undone(record, records)]
    last = held[-1].entry if held else None
    others = WindowRecord.objects.of(company).filter(entry=last).exclude(opening=row)
    count = others.values("opening").distinct().count() if last else 0
    return WindowPage(shown, tuple(reversed(records)), last, count)


def damaged_windows(company: Company) -> tuple[DamagedWindow, ...]:
    """Return the windows that stand damaged in live houses, the first day to claim first. Four queries."""
    reported = WindowRecord.objects.of(company).filter(kind=Kind.DAMAGED).values("opening")
    rows = _openings(company).filter(pk__in=reported, house__archived=False, house__project__archived=False)
    shown = [each for each in windows_shown(company, rows) if each.standing.state is State.DAMAGED]
    reports: dict[int, list[WindowRecord]] = {each.opening.pk: [] for each in shown}
    # what was reported of a window that was sent back since is not this one's
    of_those = _with_photos(company).filter(opening__in=list(reports), taken_back_by__isnull=True)
    for record in of_those.order_by("number"):
        if record.kind == Kind.SENT_BACK:
            reports[record.opening_id].clear()
        elif record.kind == Kind.DAMAGED:
            reports[record.opening_id].append(record)
    today = local_today(company)
    return tuple(
        DamagedWindow(each, tuple(reports[each.opening.pk]), _claim_day(each) < today)
        for each in sorted(shown, key=lambda each: (_claim_day(each), each.opening.pk))
    )


def photo_of(company: Company, pk: int) -> WindowPhoto:
    """Return a photo of the company. Raises NotThere."""
    return row_of(WindowPhoto, company, pk)


def happened_to(company: Company, openings: Sequence[Opening]) -> Mapping[int, Sequence[Happened]]:
    """Return what happened to the window of each opening, the first first. One query."""
    return _happened(WindowRecord.objects.of(company).filter(opening__in=[row.pk for row in openings]))


def scheduled_size(opening: Opening) -> Size:
    """Return the size that the opening's schedule has for its window."""
    return _size(opening.unit_width_nm, opening.unit_height_nm)


def _openings(company: Company) -> QuerySet[Opening]:
    rows = live_openings(company).select_related("elevation", "house")
    return rows.order_by("house_id", "elevation__walking_order", "row", "id")


def _happened(rows: QuerySet[WindowRecord]) -> dict[int, list[Happened]]:
    found: dict[int, list[Happened]] = {}
    for opening, *told in rows.order_by("number").values_list(*_COLUMNS):
        found.setdefault(opening, []).append(_as_happened(told))
    return found


def _as_happened(told: Sequence[Any]) -> Happened:
    """Return the record of its number, kind, width, height, claim and the number that it takes back."""
    number, kind, width, height, claim_by, undone = told
    size = None if width is None else _size(width, height)
    return Happened(number, Kind(kind), size, claim_by, undone)


def _plain(record: WindowRecord) -> Happened:
    undone = record.takes_back.number if record.takes_back else None
    size = (record.width_nm, record.height_nm)
    return _as_happened((record.number, record.kind, *size, record.claim_by, undone))


def _size(width_nm: int, height_nm: int) -> Size:
    return Size(Length(width_nm), Length(height_nm))


def _shown(row: Opening, happened: Sequence[Happened]) -> WindowShown:
    scheduled = scheduled_size(row)
    return WindowShown(row, scheduled, fold(happened, scheduled))


def _of_state(state: State, shown: Sequence[WindowShown]) -> StateOfHouse:
    faces: dict[int, list[WindowShown]] = {}
    for each in shown:
        if each.standing.state is state:
            faces.setdefault(each.opening.elevation_id, []).append(each)
    return StateOfHouse(
        state, tuple(FaceOfState(of[0].opening.elevation, tuple(of)) for of in faces.values())
    )


def _last_entry(company: Company, house: House) -> WindowEntry | None:
    return WindowEntry.objects.of(company).filter(house=house).select_related("by").order_by("-id").first()


def _with_photos(company: Company) -> QuerySet[WindowRecord]:
    photos: QuerySet[WindowPhoto] = WindowPhoto.objects.of(company).defer("content")
    rows = WindowRecord.objects.of(company).select_related("entry__by", "takes_back", "opening")
    return rows.prefetch_related(Prefetch("photos", queryset=photos.order_by("id")))


def _is_undone(record: WindowRecord, records: Sequence[WindowRecord]) -> bool:
    undone = {each.takes_back_id for each in records if each.takes_back_id}
    return record.kind == Kind.TAKEN_BACK or record.pk in undone


def _claim_day(each: WindowShown) -> date:
    return each.standing.claim_by or date.max
