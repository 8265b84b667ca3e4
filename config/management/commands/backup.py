"""`backup FOLDER`: a sealed copy of the database and every made file, while Lapwise is in use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import CommandParser

from config.backup.keeping import make_backup, remove_old
from projects.choosing import make_ready
from projects.commandline import Answer, AnswerCommand, WrongUsage


class Command(AnswerCommand):
    """Writes one backup."""

    help = "Write a sealed backup of the database and all made files into a folder."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare where to, and how many stay."""
        parser.add_argument("folder", metavar="FOLDER", type=Path)
        parser.add_argument("--keep", type=int, metavar="COUNT", help="remove all but the newest there")

    def answer(self, **options: Any) -> Answer:
        """Return what was written."""
        newest = options["keep"]
        if newest is not None and newest < 1:
            raise WrongUsage("--keep is at least 1.")
        make_ready()
        kept = make_backup(options["folder"])
        removed = remove_old(options["folder"], newest=newest) if newest else 0
        notices = []
        if kept.is_new_key:
            notices.append(
                f"The key {settings.BACKUP_KEY_FILE} is new. Keep a copy of it elsewhere: "
                "without it nobody can read a backup."
            )
        values = {
            "file": str(kept.file),
            "bytes": kept.file.stat().st_size,
            "tables": len(kept.contents.tables),
            "files": len(kept.contents.files),
            "removed": removed,
        }
        return Answer(values, notices=notices)

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return one line for a log."""
        return [
            f"Wrote {document['file']}: {document['bytes']:,} bytes, {document['tables']} tables, "
            f"{document['files']} files."
        ]
