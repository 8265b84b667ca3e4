"""`drill`: back up, restore beside it, compare all of it: exit 1 where a backup would not bring all back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from config.backup.drill import drill
from config.backup.keeping import newest_in
from projects.choosing import make_ready
from projects.commandline import Answer, AnswerCommand
from projects.problems import Problem

REMEDY = "Don't rely on this backup: make another and run the drill again."


class Command(AnswerCommand):
    """Tries whether a backup is any good; what is in use stays as it is."""

    help = "Restore a backup into a scratch database and compare everything; exit 1 where anything differs."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare which backup."""
        parser.add_argument(
            "path",
            metavar="PATH",
            type=Path,
            nargs="?",
            help="a backup, or a folder's newest; else a new one",
        )

    def answer(self, **options: Any) -> Answer:
        """Return every check."""
        make_ready()
        checks = list(drill(newest_in(options["path"]) if options["path"] else None))
        failed = [check for check in checks if not check.holds]
        return Answer(
            {"checks": [asdict(check) for check in checks]},
            problems=[Problem(f"{check.what}: {check.told}.", REMEDY) for check in failed],
            refused=bool(failed),
        )

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return one line per check."""
        return [
            f"{check['what']:11}{'holds' if check['holds'] else 'BROKEN':7}{check['told']}"
            for check in document["checks"]
        ]
