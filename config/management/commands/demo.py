"""`demo load` brings an invented contractor with its houses and crews, `demo remove` takes it away."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from django.core.management.base import CommandParser

from config.demo.files import company_code
from config.demo.load import demo_company, load_demo, sign_ins
from projects.choosing import make_ready
from projects.commandline import Answer, AnswerCommand, WrongUsage
from projects.errors import BadValue
from projects.services import remove_company


class Command(AnswerCommand):
    """Loads or removes the demo; doing either twice changes nothing."""

    help = "Load the demo's invented contractor, or remove it with all it has."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare what to do and from which week on."""
        parser.add_argument("what", choices=["load", "remove"])
        parser.add_argument("--monday", metavar="DATE", help="first week of the demo; without it next week")

    def answer(self, **options: Any) -> Answer:
        """Return what was loaded or removed."""
        make_ready()
        if options["what"] == "remove":
            if options["monday"] is not None:
                raise WrongUsage("--monday goes with load.")
            return _remove()
        return _load(_day(options["monday"]))

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return what there is now, and who signs in."""
        counts, told = document["counts"], []
        if document["removed"]:
            told.append(f"Removed {document['company']} with its {sum(counts.values())} rows.")
        if document["loaded"]:
            counted = ", ".join(f"{count} {thing}" for thing, count in counts.items())
            told += [f"Loaded {document['company']}: {counted}.", "They sign in with:"]
        for person in document["sign_ins"]:
            told.append(f"  {person['role']:8} {person['email']:26} {person['password']}")
        return told


def _load(monday: date | None) -> Answer:
    there = demo_company()
    counts = {} if there else load_demo(monday)
    notices = ["The demo is there already; nothing was changed."] if there else []
    values = {
        "company": company_code(),
        "loaded": there is None,
        "removed": False,
        "counts": dict(counts),
        "sign_ins": sign_ins(),
    }
    return Answer(values, notices=notices)


def _remove() -> Answer:
    there = demo_company()
    counts = remove_company(company=there) if there else {}
    notices = [] if there else ["The demo is not there; nothing was changed."]
    values = {
        "company": company_code(),
        "loaded": False,
        "removed": there is not None,
        "counts": dict(counts),
        "sign_ins": [],
    }
    return Answer(values, notices=notices)


def _day(text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadValue(
            problem=f"{text!r} is not a day.", remedy="Write it as 2026-06-08.", value=text
        ) from None
