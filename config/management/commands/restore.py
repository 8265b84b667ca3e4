"""`restore PATH`: put a backup, or a folder's newest, in the place of an empty database."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from config.backup.keeping import newest_in, restore
from projects.commandline import Answer, AnswerCommand


class Command(AnswerCommand):
    """Restores one backup; checks all of it before anything is touched."""

    help = "Put a backup in the place of an empty database and its files."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare which, and whether what is there may be lost."""
        parser.add_argument(
            "path", metavar="FOLDER", type=Path, help="a folder, whose newest is taken, or a file"
        )
        parser.add_argument("--replace", action="store_true", help="lose what the database holds now")

    def answer(self, **options: Any) -> Answer:
        """Return what was restored."""
        file = newest_in(options["path"])
        contents = restore(file, replace=options["replace"])
        values = {
            "file": str(file),
            "made_at": contents.made_at,
            "tables": len(contents.tables),
            "files": len(contents.files),
        }
        return Answer(values, notices=["People sign in anew where SECRET_KEY is another."])

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return which moment there is again."""
        return [
            f"Restored {document['file']}, made at {document['made_at']}: {document['tables']} tables, "
            f"{document['files']} files."
        ]
