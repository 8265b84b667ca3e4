"""`bench`: is it as fast as it must be? Prints a line per figure and judges each."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from django.core.management.base import CommandError, CommandParser

from config.benches.apart import BenchStopped, empty_database, measured
from config.benches.registry import BENCHES
from projects.commandline import Answer, AnswerCommand, WrongUsage


class Command(AnswerCommand):
    """Measures on databases of its own; exit 1 where a figure misses."""

    help = "Measure speed and memory, on a database of its own; exit 1 where a figure misses."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare which benches to run, and how they are judged."""
        parser.add_argument("names", nargs="*", metavar="NAME", help=f"one of: {', '.join(BENCHES)}")
        parser.add_argument("--small", action="store_true", help="with little: whether it runs, not how fast")
        parser.add_argument("--ease", type=float, default=1.0, help="allow so many times what is required")

    def answer(self, **options: Any) -> Answer:
        """Return every figure, measured one bench after the other."""
        unknown = [name for name in options["names"] if name not in BENCHES]
        if unknown:
            raise WrongUsage(f"There is no bench {unknown[0]!r}; there are {', '.join(BENCHES)}.")
        try:
            told = self._measured(
                options["names"] or list(BENCHES), small=options["small"], ease=options["ease"]
            )
        except BenchStopped as error:
            raise CommandError(f"{error} stopped before it had figures.") from error
        return Answer({"figures": told}, refused=not all(figure["met"] for figure in told))

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return one line per figure."""
        return [_line(figure) for figure in document["figures"]]

    def _measured(self, names: Sequence[str], *, small: bool, ease: float) -> list[dict[str, Any]]:
        told: list[dict[str, Any]] = []
        with empty_database() as empty:
            for name in names:
                self.stderr.write(f"Measuring {name}.")
                found = measured(name, empty=empty, small=small)
                load = round(os.getloadavg()[0], 1)
                told += [asdict(figure) | {"met": figure.is_met(ease=ease), "load": load} for figure in found]
        return told


def _line(figure: Mapping[str, Any]) -> str:
    words = [f"{_verdict(figure):7}{figure['name']:55}{_number(figure['measured']):>7} {figure['unit']:11}"]
    if figure["required"] is not None:
        most = "at least" if figure["at_least"] else "at most"
        words.append(f"{most} {_number(figure['required'])}; ")
    words.append(f"{figure['note']}; " if figure["note"] else "")
    words.append(f"load {figure['load']}")
    return "".join(words)


def _verdict(figure: Mapping[str, Any]) -> str:
    if figure["required"] is None:
        return "told"
    return "met" if figure["met"] else "MISSED"


def _number(value: float) -> str:
    return f"{value:,.0f}" if value >= 100 else f"{value:.3g}"
