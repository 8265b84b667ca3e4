"""check_laps: whether layers, in the order in which they went on, lap like shingles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.core.management.base import CommandParser

from openings.methods.choices import YES_NO, Choices
from openings.methods.laps import LapCheck, check_order
from openings.methods.load import known_items, load_method
from openings.methods.method import Method
from projects.commandline import Answer, AnswerCommand
from projects.errors import BadValue
from projects.problems import Problem


class Command(AnswerCommand):
    """Checks an order of layers against a method's laps."""

    help = "Check the order in which layers went on against the method's laps."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the method, its choices and the order."""
        parser.add_argument("--method", required=True, help="the install method's code")
        over_fin = "none, membrane or sealed; default: the method's own"
        parser.add_argument("--over-fin", type=str.lower, help=over_fin)
        parser.add_argument(
            "--pan", type=str.lower, default="membrane", help="membrane, stretch, rigid or none"
        )
        parser.add_argument("--head-strip", type=str.lower, default="yes", help="yes or no")
        parser.add_argument("--fin", type=str.lower, default="fixed", help="fixed or folding")
        parser.add_argument("--corners", type=str.lower, default="welded", help="welded or open")
        parser.add_argument("--order", required=True, help="layers in order, separated by commas")

    def answer(self, **options: Any) -> Answer:
        """Return whether the order is legal and complete, and what is wrong with it."""
        method = load_method(options["method"])
        items = [" ".join(item.split()).lower() for item in options["order"].split(",") if item.strip()]
        choices = _choices(method, items, options)
        problems = _refusals(items)
        if problems:
            return Answer(problems=problems, refused=True)
        check = check_order(method, choices, items)
        return Answer(
            values=_values(check),
            notices=[
                f"{name}: the choices do not have it, so its laps were not judged." for name in check.not_here
            ],
        )

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return the answer for a person."""
        legal = "Legal: no water is led behind." if document["legal"] else "Not legal: this leaks."
        told = [legal]
        told += [
            f"Reverse lap: {lap['over']} must lie over {lap['under']}. {lap['why']}"
            for lap in document["reverse_laps"]
        ]
        told += [
            f"Wrong order: {pair['first']} comes before {pair['then']}. {pair['why']}"
            for pair in document["wrong_order"]
        ]
        if document["drainage_blocked"]:
            told.append("Drainage blocked: the pan can't drain past what covers the sill fin.")
        if document["missing"]:
            told.append(f"Not complete, missing: {', '.join(document['missing'])}.")
        return told


def _choices(method: Method, items: Sequence[str], options: Mapping[str, Any]) -> Choices:
    if options["head_strip"] not in YES_NO:
        raise BadValue(
            problem=f"{options['head_strip']!r} is neither yes nor no.",
            remedy="Give --head-strip yes or no.",
            value=options["head_strip"],
        )
    return method.choices(
        over_fin=options["over_fin"],
        pan=options["pan"],
        head_strip=options["head_strip"] == "yes",
        fin=options["fin"],
        corners=options["corners"],
        drip_cap="drip cap" in items,  # whether one is drawn is not asked: where it is named, it is there
    )


def _refusals(items: Sequence[str]) -> list[Problem]:
    known = known_items()
    remedy = f"Use, each once: {', '.join(known)}."
    if not items:
        return [Problem("The order names no layers.", remedy, value="")]
    unknown = [
        Problem(f"{name!r} is no layer we know.", remedy, value=name)
        for name in dict.fromkeys(items)
        if name not in known
    ]
    twice = [
        Problem(f"{name!r} is named {items.count(name)} times.", remedy, value=name)
        for name in dict.fromkeys(items)
        if items.count(name) > 1
    ]
    return unknown + twice


def _values(check: LapCheck) -> dict[str, Any]:
    return {
        "legal": check.is_legal,
        "complete": check.is_complete,
        "reverse_laps": [
            {"over": lap.over, "under": lap.under, "why": lap.why} for lap in check.reverse_laps
        ],
        "wrong_order": [
            {"first": after.first, "then": after.then, "why": after.why} for after in check.wrong_order
        ],
        "missing": list(check.missing),
        "drainage_blocked": check.drainage_blocked,
    }
