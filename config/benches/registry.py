"""Which benches there are, by the name the command takes; each has a process and a database of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from config.benches import (
    cutting,
    exports,
    issuing,
    minimums,
    pages,
    purchasing,
    rollups,
    schedule,
    sheet,
    takeoff,
)
from config.benches.figure import Figure

BENCHES: Mapping[str, Callable[..., Iterable[Figure]]] = {
    "takeoff": takeoff.measure,
    "rollups": rollups.measure,
    "schedule-csv": partial(schedule.measure, "csv"),
    "schedule-xlsx": partial(schedule.measure, "xlsx"),
    "pages": pages.measure,
    "purchasing": purchasing.measure,
    "minimums": minimums.measure,
    "issuing": issuing.measure,
    "sheet": sheet.measure,
    "exports": exports.measure,
    "cutting": cutting.measure,
}
