"""`verify_invariants`: does everything hold in the database that must hold at any moment?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.core.management.base import CommandParser

from config.invariants.report import Finding
from config.invariants.verify import verify
from projects.choosing import choose_actor, make_ready
from projects.commandline import Answer, AnswerCommand
from projects.models import Company
from projects.problems import Problem

REMEDY = "Something wrote past the application. See the record of changes, then restore the last backup."


class Command(AnswerCommand):
    """Searches every company for what must never be; changes nothing."""

    help = "Check what must hold of orders, plans, companies and triggers; exit 1 where it does not."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the one option."""
        parser.add_argument("--company", metavar="CODE", help="only this company")

    def answer(self, **options: Any) -> Answer:
        """Return each invariant with what was looked at, and where one is broken."""
        make_ready()
        findings = list(verify(_companies(options["company"])))
        return Answer(
            {"invariants": [_told(finding) for finding in findings]},
            problems=[
                Problem(f"{finding.code}: {broken.where} {broken.what}.", REMEDY)
                for finding in findings
                for broken in finding.broken
            ],
            refused=not all(finding.holds for finding in findings),
        )

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return one line per invariant."""
        return [
            f"{told['code']:8} {'holds' if told['holds'] else 'BROKEN':6} {told['rule']} "
            f"({told['looked_at']} looked at)"
            for told in document["invariants"]
        ]


def _companies(code: str | None) -> list[Company]:
    if code is None:
        return list(Company.objects.order_by("code"))
    return [choose_actor({"company": code}).company]


def _told(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "rule": finding.rule,
        "looked_at": finding.looked_at,
        "holds": finding.holds,
        "broken": len(finding.broken),
    }
