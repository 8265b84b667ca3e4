"""`manage.py sequence`: the engine that plans a crew's day, on a bare problem."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from crews.dayplan.case import Case, read_case
from crews.dayplan.model import SearchLimits
from crews.dayplan.plan import DayPlan
from crews.dayplan.solve import solve
from projects.commandline import Answer, AnswerCommand, read_seconds
from projects.errors import BadValue


class Command(AnswerCommand):
    """Answers when each task starts, so that the last one ends as early as it can."""

    help = "The shortest order of tasks that keeps people, windows and lags."

    def add_arguments(self, parser: CommandParser) -> None:
        """Add the case file, and how long and how to search."""
        parser.add_argument("--file", required=True, metavar="CASE.json", help="resources, tasks and lags")
        parser.add_argument("--seconds", default="10", help="how long to search at most")
        parser.add_argument("--workers", type=int, default=8, help="searches side by side; 1 repeats exactly")
        parser.add_argument("--seed", type=int, default=1, help="another seed searches another way")

    def answer(self, **options: Any) -> Answer:
        """Return the plan. Raises UserError where the file can't be read or an option can't be."""
        limits = SearchLimits(
            seconds=read_seconds(options["seconds"]),
            workers=_read_count(options["workers"], "--workers", largest=64),
            seed=_read_count(options["seed"], "--seed", largest=2**31 - 1),
        )
        case = read_case(_read_text(Path(options["file"])))
        if case.problem is None:
            return Answer(problems=case.refusals, notices=case.notices, refused=True)
        plan = solve(case.problem, limits=limits, clock=time.perf_counter)
        notices = [*case.notices, plan.reason] if plan.reason else case.notices
        return Answer(_values(plan, case), notices=notices)

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return status, end and starts in order of time for a person."""
        if document["makespan"] is None:
            return [f"{document['status']}, after {document['seconds']:.1f} s"]
        by_time = sorted(document["starts"].items(), key=lambda start: start[1])
        return [
            f"{document['status']}: ends at {document['makespan']} min, "
            f"not before {document['bound']} min in any order, after {document['seconds']:.1f} s",
            *(f"{start:>6} {name}" for name, start in by_time),
        ]


def _values(plan: DayPlan, case: Case) -> dict[str, Any]:
    return {
        "status": str(plan.status),
        "makespan": None if plan.makespan is None else case.minutes(plan.makespan),
        "bound": None if plan.bound is None else case.minutes(plan.bound),
        "gap": plan.gap,
        "seconds": plan.seconds,
        "starts": {name: case.minutes(start) for name, start in plan.starts.items()},
    }


def _read_count(count: int, what: str, *, largest: int) -> int:
    if not 1 <= count <= largest:
        raise BadValue(problem=f"{what} is {count}.", remedy=f"Give 1 to {largest}.", value=count)
    return count


def _read_text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise BadValue(
            problem=f"{path.name} can't be read as text.",
            remedy="Check the file's name; save it as JSON in UTF-8.",
            value=path,
        ) from error
