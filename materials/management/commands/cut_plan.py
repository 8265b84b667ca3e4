"""`cut_plan --file CASE.json`: the cheapest rolls for a list of pieces, with its proven bound."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from typing import Any

from django.core.management.base import CommandParser

from materials.cutplan.case import answer_of_plan, problem_of_case
from materials.cutplan.solve import plan_cuts
from materials.cutplan.verify import verify
from projects.casefile import read_case
from projects.commandline import Answer, AnswerCommand, read_seconds


class Command(AnswerCommand):
    """Plans the cuts of one width of material from a JSON case."""

    help = "Plan which pieces to cut from which rolls and offcuts, at the least cost."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the case and the time limit."""
        parser.add_argument("--file", required=True, metavar="CASE.json", help="rolls, offcuts and pieces")
        parser.add_argument("--seconds", default="10", help="time limit (default 10)")

    def answer(self, **options: Any) -> Answer:
        """Return the plan, verified. Raises BadValue for a case or a time limit that cannot be."""
        seconds = read_seconds(options["seconds"])
        problem = problem_of_case(read_case(options["file"]))
        plan = plan_cuts(problem, seconds=seconds, clock=time.perf_counter)
        faults = verify(problem, plan)
        if faults:
            raise AssertionError(f"The cut plan does not hold: {' '.join(faults)}")
        return Answer(values=answer_of_plan(plan), problems=plan.problems)

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return the plan roll by roll."""
        if document["cost"] is None:
            return [f"{document['status']}: no plan."]
        lines = [f"{document['status']}: cost {document['cost']:g}, proven at least {document['bound']:g}."]
        for cut in document["cuts"]:
            pieces = ", ".join(f"{count} x {name}" for name, count in cut["pieces"].items())
            lines.append(f"{cut['times']} x {cut['roll']}: {pieces}; {cut['left']:g} left")
        return lines
