"""`crew_sheet --crew CODE --date DATE [--pdf FILE]`: a crew's day, step by step, and its sheet as PDF."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from crews import services
from crews.convert.kept import sheet_of_plan
from crews.dayplan.sheet import Sheet, SheetStep, SheetVisit
from crews.documents import sheet_pdf
from crews.errors import NobodyInCrew, NothingAssigned
from crews.models import Crew, DayPlan
from crews.selectors.crews import crew_by_code
from projects.actors import Actor
from projects.choosing import add_actor_options, choose_actor
from projects.commandline import Answer, AnswerCommand
from projects.errors import BadValue, NotThere
from projects.messages import words
from projects.quantities.length import Length


class Command(AnswerCommand):
    """Answers a crew's day as assigned, specified and forecast now; the plan is kept as the page's is."""

    help = "A crew's day: steps with clock times, waits and why, what to load, hold points, cautions."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the crew, the day, and a file for the PDF."""
        parser.add_argument("--crew", required=True, metavar="CODE", help="a crew that is stored")
        parser.add_argument("--date", required=True, metavar="DATE", help="the day, as 2026-06-08")
        parser.add_argument("--pdf", metavar="FILE", help="write the sheet as PDF here")
        add_actor_options(parser)

    def answer(self, **options: Any) -> Answer:
        """Return the day. Raises BadValue for an unknown crew, no day, a file that can't be written."""
        by = choose_actor(options)
        crew, day = _crew(by, options["crew"]), _day(options["date"])
        try:
            plan = services.plan_day(by=by, crew=crew, day=day)
        except (NobodyInCrew, NothingAssigned) as empty:
            return Answer(values=_document(crew.code, day, None, ""), notices=[words(empty)])
        file = _write(plan, options["pdf"]) if options["pdf"] else ""
        sheet = sheet_of_plan(plan)
        return Answer(values=_document(crew.code, day, sheet, file), notices=sheet.notices)

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return the day for a person: each opening with its steps, then what to load and what is left."""
        told = [f"{document['crew']} on {document['date']}"]
        for visit in document["visits"]:
            told.append(f"{visit['house']} {visit['elevation']} {visit['mark']}")
            told += [f"  {_line(step)}" for step in visit["steps"]]
        told += [f"Load {line['quantity']} {line['what']}" for line in document["load"]]
        told += [f"Hold: {hold['hold']}, signs {hold['signs']}" for hold in document["hold_points"]]
        told += [f"Not today: {left['mark']}. {left['why']}" for left in document["left_over"]]
        told += [
            f"Caution: {each['where']}: {each['caution']} {each['who']}" for each in document["cautions"]
        ]
        return [*told, f"Written: {document['pdf']}"] if document["pdf"] else told


def _line(step: Mapping[str, Any]) -> str:
    wait = f", not before {step['wait_until']}" if step["wait_until"] else ""
    limit = f", start by {step['start_by']}" if step["start_by"] else ""
    return f"{step['start']} to {step['end']} {step['step']} ({step['people']}){wait}{limit}"


def _crew(by: Actor, code: str) -> Crew:
    try:
        return crew_by_code(by.company, code)
    except NotThere:
        raise BadValue(
            problem=f"There is no crew {code!r}.", remedy="Give a code from the crews' page.", value=code
        ) from None


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadValue(problem=f"{text!r} is no day.", remedy="Write it as 2026-06-08.", value=text) from None


def _write(plan: DayPlan, file: str) -> str:
    content = sheet_pdf(plan).content
    try:
        Path(file).write_bytes(content)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise BadValue(
            problem=f"{file} can't be written: {reason}.",
            remedy="Give a file in a folder that is there.",
            value=file,
        ) from error
    return file


def _document(crew: str, day: date, sheet: Sheet | None, file: str) -> dict[str, Any]:
    return {
        "crew": crew,
        "date": day.isoformat(),
        "visits": [_visit(visit) for visit in sheet.visits] if sheet else [],
        "load": _load(sheet) if sheet else [],
        "hold_points": _holds(sheet) if sheet else [],
        "cautions": [
            {"where": each.where, "caution": each.told, "who": each.who}
            for each in (sheet.all_cautions if sheet else ())
        ],
        "left_over": [
            {"house": each.house, "elevation": each.elevation, "mark": each.mark, "why": each.why}
            for each in (sheet.left_over if sheet else ())
        ],
        "gates": [
            {"start": _clock(gate.start), "end": _clock(gate.end), "work": gate.work, "why": gate.reason}
            for gate in (sheet.gates if sheet else ())
        ],
        "weather": list(sheet.weather) if sheet else [],
        "pdf": file or None,
    }


def _visit(visit: SheetVisit) -> dict[str, Any]:
    return {
        "house": visit.house,
        "elevation": visit.elevation,
        "mark": visit.mark,
        "method": visit.method,
        "covered_for_the_night": visit.is_covered,
        "steps": [_step(step) for step in visit.steps],
        "fasteners": [
            {"zone": line.side, "positions_in": [Length(nm).in_inches for nm in line.positions_nm]}
            for line in visit.screws
        ],
        "later": list(visit.later),
    }


def _step(step: SheetStep) -> dict[str, Any]:
    return {
        "step": step.code.replace("-", " "),
        "label": step.label,
        "start": _clock(step.start),
        "end": _clock(step.end),
        "people": step.people,
        "hands": list(step.hands),
        "wait_until": _clock(step.wait_until),
        "start_by": _clock(step.before),
        "why": step.why,
        "notes": list(step.notes),
    }


def _load(sheet: Sheet) -> list[dict[str, str]]:
    lines = [{"what": each.what, "quantity": each.quantity, "why": each.why} for each in sheet.load]
    return [
        *lines,
        *({"what": each, "quantity": "", "why": "always on the truck"} for each in sheet.par_list),
    ]


def _holds(sheet: Sheet) -> list[dict[str, Any]]:
    return [
        {
            "mark": hold.mark,
            "step": hold.code.replace("-", " "),
            "when": "before" if hold.is_before else "after",
            "at": _clock(hold.at),
            "hold": hold.label,
            "looks": list(hold.looks),
            "signs": hold.signs,
        }
        for hold in sheet.holds
    ]


def _clock(minute: int | None) -> str | None:
    """Return a minute of the day as scripts sort it: 08:05; None for none."""
    return None if minute is None else f"{minute // 60:02d}:{minute % 60:02d}"
