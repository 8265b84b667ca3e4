"""Take a window schedule over into a house: `import_openings FILE --house CODE`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser
from django.db import transaction

from openings import selectors, services
from openings.schedule.compare import Standing
from openings.schedule.read import unused_match
from openings.services.schedule import Preview, preview_import
from projects.choosing import add_actor_options, choose_actor
from projects.commandline import Answer, AnswerCommand, collect_match, read_bytes
from projects.errors import BadValue, NotThere
from projects.models import House


class Command(AnswerCommand):
    """Reads a CSV or XLSX window schedule into a house; one bad row saves nothing, unless told otherwise."""

    help = "Take a window schedule (CSV or XLSX) over into a house."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the published options."""
        parser.add_argument("file", metavar="FILE")
        parser.add_argument("--house", required=True, metavar="CODE")
        parser.add_argument("--match", action="append", metavar="THEIRS=ours,...")
        parser.add_argument("--sheet", metavar="NAME")
        parser.add_argument("--check", action="store_true", help="say what would change and save nothing")
        parser.add_argument("--keep-good-rows", action="store_true")
        parser.add_argument("--remove-missing", action="store_true")
        add_actor_options(parser)

    def answer(self, **options: Any) -> Answer:
        """Return the counts, after saving unless a row is bad or `--check` was said."""
        actor = choose_actor(options)
        try:
            house = selectors.find_house(actor.company, options["house"])
        except NotThere as error:
            raise _unknown_house(options["house"]) from error
        content = read_bytes(options["file"])
        match = collect_match(options["match"])
        with transaction.atomic():
            preview, saved = self._import(actor, house, content, match, options)
            if not saved or _changes_nothing(preview, options):
                transaction.set_rollback(True)  # the same file twice leaves no trace
        refused = bool(preview.reading.problems) and not options["keep_good_rows"]
        return Answer(
            _counts(preview, saved=saved),
            problems=preview.reading.problems,
            notices=(*unused_match(preview.reading, match), *preview.reading.notices),
            refused=refused or (not preview.comparison.openings),
        )

    def _import(
        self,
        actor: Any,
        house: House,
        content: bytes,
        match: Mapping[str, str],
        options: Mapping[str, Any],
    ) -> tuple[Preview, bool]:
        schedule = services.start_import(
            by=actor,
            house=house,
            file_name=Path(options["file"]).name,
            content=content,
            match=match or None,
            sheet=options["sheet"] or "",
        )
        preview = preview_import(schedule)
        bad = bool(preview.reading.problems) and not options["keep_good_rows"]
        if options["check"] or bad or not preview.comparison.openings:
            return preview, False
        services.confirm_import(
            by=actor,
            schedule_import=schedule,
            keep_good_rows=options["keep_good_rows"],
            remove_missing=options["remove_missing"],
        )
        return preview, True

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return one sentence of counts."""
        lines = [
            "{rows} rows, {openings} openings: {new} new, {changed} changed, {same} same.".format(**document),
            "Saved." if document["saved"] else "Nothing was saved.",
        ]
        if document["not_in_file"]:
            lines.insert(1, "Not in the file: " + ", ".join(document["not_in_file"]) + ".")
        return lines


def _changes_nothing(preview: Preview, options: Mapping[str, Any]) -> bool:
    comparison = preview.comparison
    same = comparison.count(Standing.SAME) == len(comparison.openings)
    return same and not (options["remove_missing"] and comparison.not_in_file)


def _counts(preview: Preview, *, saved: bool) -> dict[str, Any]:
    comparison = preview.comparison
    return {
        "rows": preview.reading.rows,
        "openings": len(comparison.openings),
        **{str(standing): comparison.count(standing) for standing in Standing},
        "not_in_file": list(comparison.not_in_file),
        "saved": saved,
    }


def _unknown_house(code: str) -> BadValue:
    return BadValue(
        problem=f"There is no house {code}.",
        remedy="Check the code, or create the house first.",
        value=code,
    )
