"""The shape every command answers in: one JSON document or plain lines, and the three exit codes."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from projects.errors import AppError, BadValue, UserError
from projects.problems import Problem

DONE = 0
REFUSED = 1
WRONG_USAGE = 2
LONGEST_SECONDS = 3600
_SECONDS = re.compile(r"[0-9]{1,4}(?:\.[0-9]{0,9})?|\.[0-9]{1,9}")


class WrongUsage(AppError):
    """An unknown option or setting: exit 2."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command found. `values` are the document's own keys; `refused` decides the exit code."""

    values: Mapping[str, Any] = field(default_factory=dict)
    problems: Sequence[Problem] = ()
    notices: Sequence[str] = ()
    refused: bool = False

    def as_json(self) -> dict[str, Any]:
        """Return the published document."""
        return {
            **self.values,
            "problems": [problem.as_json() for problem in self.problems],
            "notices": list(self.notices),
        }


class AnswerCommand(BaseCommand):
    """A command that answers. Subclasses give `answer` and, for people, `lines`."""

    requires_system_checks: Sequence[str] = []  # type: ignore[assignment]  # an answer needs no database

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """Return the parser with `--json`, which every answering command takes."""
        parser = super().create_parser(prog_name, subcommand, **kwargs)
        parser.add_argument("--json", action="store_true", help="print one JSON document and nothing else")
        return parser

    def answer(self, **options: Any) -> Answer:
        """Return the command's answer. Raises UserError for bad input, WrongUsage for a wrong call."""
        raise NotImplementedError

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return the document's lines for a person; problems and notices are added by `handle`."""
        return [json.dumps(document, indent=2, default=str)]

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the answer and leave with its exit code."""
        code = DONE
        try:
            answer = self.answer(**options)
            code = REFUSED if answer.refused else DONE
        except WrongUsage as error:
            answer, code = Answer(problems=[Problem(str(error), f"See {self.name} --help.")]), WRONG_USAGE
        except UserError as error:
            answer, code = Answer(problems=[problem_of(error)]), REFUSED
        self._print(answer, as_json=options["json"])
        if code != DONE:
            sys.exit(code)

    @property
    def name(self) -> str:
        """Return the command's name."""
        return type(self).__module__.rsplit(".", 1)[-1]

    def _print(self, answer: Answer, *, as_json: bool) -> None:
        if as_json:
            self.stdout.write(json.dumps(answer.as_json(), ensure_ascii=False))
            return
        if answer.values:
            self.stdout.write("\n".join(self.lines(answer.values)))
        for notice in answer.notices:
            self.stdout.write(f"Note: {notice}")
        for problem in answer.problems:
            where = f"Row {problem.row}: " if problem.row is not None else ""
            self.stderr.write(f"{where}{problem.problem} {problem.remedy}")


def problem_of(error: UserError) -> Problem:
    """Return a refusal as the published problem shape."""
    if isinstance(error, BadValue):
        value = None if error.value is None else str(error.value)
        return Problem(error.problem, error.remedy, value=value)
    from projects.messages import words

    return Problem(words(error), "")


def collect_settings(pairs: Sequence[str] | None) -> dict[str, str]:
    """Return `NAME=VALUE` options as a mapping. Raises WrongUsage where a pair has no `=`."""
    settings: dict[str, str] = {}
    for pair in pairs or ():
        name, equals, value = pair.partition("=")
        if not equals or not name.strip():
            raise WrongUsage(f"{pair!r} is not NAME=VALUE.")
        settings[name.strip()] = value.strip()
    return settings


def collect_match(texts: Sequence[str] | None) -> dict[str, str]:
    """Return `--match "THEIRS=ours,..."` as their header to our column. Raises WrongUsage without a `=`."""
    return collect_settings([pair for text in texts or () for pair in text.split(",") if pair.strip()])


def read_bytes(path: str) -> bytes:
    """Return a file's bytes. Raises BadValue where it cannot be read."""
    try:
        return Path(path).read_bytes()
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise BadValue(
            problem=f"{path} can't be read: {reason}.", remedy="Check the path and try again.", value=path
        ) from error


def read_seconds(given: str | float) -> float:
    """Return a time limit in seconds, 0 to an hour. Raises BadValue for anything else."""
    text = str(given)
    seconds = float(text) if _SECONDS.fullmatch(text.strip()) else -1.0
    if not 0 <= seconds <= LONGEST_SECONDS:
        raise BadValue(
            problem=f"--seconds is {text[:40]!r}.", remedy=f"Give 0 to {LONGEST_SECONDS} seconds.", value=text
        )
    return seconds
