"""What a case file for `sequence` says: its parts become a day problem in whole ticks, or refusals. Pure."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any

from crews.dayplan.network import Network
from crews.dayplan.problem import DayProblem, LagKind, find_contradictions
from crews.dayplan.ticks import Amounts, ExactLag, ExactTask, find_ticks
from projects.problems import Problem as Refusal

LARGEST = 10**7
FINEST_DECIMALS = 6
# The engine multiplies amounts by times in 64 bits; this leaves it room for sums.
LARGEST_WORK = 2**56
ROUNDED = "Numbers with more than six decimals are rounded to six."
MOST_ROWS = {"tasks": 2000, "lags": 20_000}


@dataclass(frozen=True, slots=True)
class Case:
    """A case's problem, None where it was refused. One minute is `ticks` of the problem's own time."""

    problem: DayProblem | None
    ticks: int = 1
    refusals: tuple[Refusal, ...] = ()
    notices: tuple[str, ...] = ()

    def minutes(self, time: int) -> int | float:
        """Return the problem's `time` in minutes, whole where it is whole."""
        whole, rest = divmod(time, self.ticks)
        return time / self.ticks if rest else whole


def read_case(text: str) -> Case:
    """Return the case that the JSON `text` states.

    Fractions of a minute are kept exactly, by counting in ticks. Every refusal is reported; unknown keys are
    ignored; a task whose list of windows is empty has no limits, with a notice.
    """
    try:
        document = json.loads(text, parse_float=Decimal, parse_constant=str)
    except (ValueError, RecursionError, ArithmeticError):
        return _refused(Refusal("The case file is not JSON.", "Check its commas, brackets and quotes."))
    if not isinstance(document, Mapping) or document.get("tasks") is None:
        return _refused(Refusal("The case file has no tasks.", "Give an object with tasks."))
    reading = _Reading()
    resources = tuple(reading.amounts(document.get("resources"), "resources"))
    tasks = [_read_task(reading, where, row=row) for where, row in reading.rows(document["tasks"], "tasks")]
    lags = [_read_lag(reading, where, row=row) for where, row in reading.rows(document.get("lags"), "lags")]
    if reading.refusals:
        return Case(None, refusals=tuple(reading.refusals), notices=tuple(reading.notices))
    return _count(resources, tasks, lags=lags, notices=tuple(reading.notices))


@dataclass(slots=True)
class _Reading:
    """What is found while a document is read: refusals pile up, so that all are told at once."""

    refusals: list[Refusal] = field(default_factory=list)
    notices: list[str] = field(default_factory=list)

    def refuse(self, problem: str, remedy: str, *, value: object = None) -> None:
        """Note a refusal."""
        self.refusals.append(Refusal(problem, remedy, value=None if value is None else str(value)[:40]))

    def number(self, value: Any, where: str) -> Fraction:
        """Return a number exactly; where it is none, note it and return 0."""
        is_number = isinstance(value, int | Decimal) and not isinstance(value, bool)
        if not is_number or not abs(value) <= LARGEST:
            told = "missing" if value is None else f"{str(value)[:40]!r}, not a number up to ten million"
            self.refuse(f"{where} is {told}.", "Write a number with digits.", value=value)
            return Fraction(0)
        return self._rounded(Decimal(value))

    def text(self, value: Any, where: str) -> str:
        """Return a name; where it is none, note it."""
        if isinstance(value, str) and value.strip():
            return value
        self.refuse(f"{where} is missing or no text.", "Give it as text.", value=value)
        return ""

    def amounts(self, value: Any, where: str) -> Iterator[tuple[str, Fraction]]:
        """Yield the names and amounts of an object, none where it is absent; note what is no object."""
        if value is None:
            return
        if not isinstance(value, Mapping):
            self.refuse(f"{where} is no object.", "Write names with amounts in braces.", value=value)
            return
        for name, amount in value.items():
            yield name, self.number(amount, f"{where}: {name!r}")

    def _rounded(self, value: Decimal) -> Fraction:
        """Return the number exactly, or to the sixth decimal where it has more."""
        rounded = round(value, FINEST_DECIMALS)
        if rounded != value and ROUNDED not in self.notices:
            self.notices.append(ROUNDED)
        return Fraction(rounded)

    def rows(self, value: Any, where: str) -> Iterable[tuple[str, Mapping[str, Any]]]:
        """Return the rows of a list of objects with their places; note what is no such list."""
        if value is None:
            return []
        if not isinstance(value, list) or len(value) > MOST_ROWS[where]:
            self.refuse(f"{where} is no list of up to {MOST_ROWS[where]}.", f"Write {where} as a list.")
            return []
        for place, row in enumerate(value, start=1):
            if not isinstance(row, Mapping):
                self.refuse(f"{where}, number {place}, is no object.", "Write it in braces.", value=row)
        return [
            (f"{where}, number {place}", row)
            for place, row in enumerate(value, start=1)
            if isinstance(row, Mapping)
        ]


def _read_task(reading: _Reading, where: str, *, row: Mapping[str, Any]) -> ExactTask:
    name = reading.text(row.get("name"), f"{where}: name")
    where = f"Task {name!r}" if name else where
    return ExactTask(
        name,
        minutes=reading.number(row.get("minutes"), f"{where}: minutes"),
        uses=tuple(reading.amounts(row.get("uses"), f"{where}: uses")),
        windows=_read_windows(reading, where, value=row.get("windows")),
    )


def _read_windows(
    reading: _Reading, where: str, *, value: Any
) -> tuple[tuple[Fraction, Fraction], ...] | None:
    if value is None:
        return None
    if value == []:
        reading.notices.append(f"{where} has an empty list of windows: it may run at any time.")
        return None
    windows = []
    for pair in value if isinstance(value, list) else [value]:
        if not isinstance(pair, list) or len(pair) != 2:
            reading.refuse(
                f"{where}: a window is no pair of minutes.", "Write it as [start, end].", value=pair
            )
            continue
        start, end = (reading.number(edge, f"{where}: window") for edge in pair)
        windows.append((start, end))
    return tuple(windows)


def _read_lag(reading: _Reading, where: str, *, row: Mapping[str, Any]) -> ExactLag:
    kind = row.get("kind")
    if kind not in tuple(LagKind):
        reading.refuse(
            f"{where}: kind is {str(kind)[:40]!r}.", "Use finish-start or start-start.", value=kind
        )
        kind = LagKind.FINISH_START
    return ExactLag(
        before=reading.text(row.get("from"), f"{where}: from"),
        after=reading.text(row.get("to"), f"{where}: to"),
        kind=LagKind(kind),
        minimum=_read_limit(reading, f"{where}: min", value=row.get("min")),
        maximum=_read_limit(reading, f"{where}: max", value=row.get("max")),
    )


def _read_limit(reading: _Reading, where: str, *, value: Any) -> Fraction | None:
    return None if value is None else reading.number(value, where)


def _count(
    resources: Amounts, tasks: Sequence[ExactTask], *, lags: Sequence[ExactLag], notices: tuple[str, ...]
) -> Case:
    """Return the case in ticks, or refused where its parts contradict themselves."""
    ticks = find_ticks(resources, tasks, lags=lags)
    whole_resources = tuple(ticks.whole_resource(*resource) for resource in resources)
    whole_tasks = tuple(ticks.whole_task(task) for task in tasks)
    whole_lags = tuple(ticks.whole_lag(lag) for lag in lags)
    if refusals := find_contradictions(whole_resources, whole_tasks, lags=whole_lags):
        return Case(None, refusals=refusals, notices=notices)
    problem = DayProblem(whole_resources, whole_tasks, whole_lags)
    most = max((resource.capacity for resource in whole_resources), default=0)
    reach = Network(problem).horizon
    if reach * (most + 1) > LARGEST_WORK:
        return _refused(Refusal("The numbers are too large together.", "Give fewer decimals, or hours."))
    return Case(problem, ticks.per_minute, notices=notices)


def _refused(refusal: Refusal) -> Case:
    return Case(None, refusals=(refusal,))
