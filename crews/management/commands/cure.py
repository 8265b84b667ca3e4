"""`manage.py cure`: when a bead is through, in steady air or over a forecast."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from crews.cure.air import Air
from crews.cure.depth import (
    LONGEST_TRACE_HOURS,
    Cure,
    CuringBead,
    cure_in_steady_air,
    cure_over_forecast,
)
from crews.cure.rows import parse_local_time, parse_number, read_forecast
from projects.commandline import Answer, AnswerCommand, WrongUsage
from projects.errors import BadValue


class Command(AnswerCommand):
    """Answers how many hours a bead needs to cure to a depth, by the bare law."""

    help = "How long a bead cures to a depth: the bare law, without the sheet's caps."

    def add_arguments(self, parser: CommandParser) -> None:
        """Add the options; numbers are read by `answer`, so that a bad one is told like any bad value."""
        parser.add_argument("--depth", required=True, metavar="MM", help="depth to cure, in millimetres")
        parser.add_argument(
            "--ref-depth",
            required=True,
            metavar="MM",
            help="the sheet's depth after 24 h at 23 C and 50 %%, in millimetres",
        )
        parser.add_argument("--sides", default="1", help="open sides of the bead, 1 or 2")
        parser.add_argument("--temp-c", metavar="T", help="steady air: degrees Celsius")
        parser.add_argument("--rh", metavar="R", help="steady air: relative humidity in percent")
        parser.add_argument("--forecast", metavar="FILE", help="CSV with time,temp_c,rh")
        parser.add_argument("--start", metavar="TIME", help="when the bead is run, local time")

    def answer(self, **options: Any) -> Answer:
        """Return the cure. Raises UserError for bad values, WrongUsage where two kinds of air are mixed."""
        steady = _uses_steady_air(options)
        bead = CuringBead(
            depth_mm=parse_number(options["depth"], what="--depth"),
            ref_depth_mm=parse_number(options["ref_depth"], what="--ref-depth"),
            sides=_read_sides(options["sides"]),
        )
        if steady:
            return _answer_steady(bead, temp_c=options["temp_c"], rh=options["rh"])
        return _answer_forecast(bead, path=Path(options["forecast"]), start=options["start"])

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return hours and air for a person."""
        dew, pressure = document["dew_point_c"], document["vapour_pressure_pa"]
        through = (
            f"Through after {document['hours']:.1f} h."
            if document["reached"]
            else "Not through: no time found."
        )
        if pressure is None:
            return [through]
        return [
            through,
            f"Vapour pressure at the start {pressure:.0f} Pa, "
            + ("no dew point." if dew is None else f"dew point {dew:.1f} °C."),
        ]


def _uses_steady_air(options: Mapping[str, Any]) -> bool:
    steady = [options["temp_c"] is not None, options["rh"] is not None]
    forecast = [options["forecast"] is not None, options["start"] is not None]
    if all(steady) and not any(forecast):
        return True
    if all(forecast) and not any(steady):
        return False
    raise WrongUsage("Give either --temp-c and --rh, or --forecast and --start.")


def _read_sides(text: str) -> int:
    sides = parse_number(text, what="--sides")
    if sides not in (1, 2):
        raise BadValue(
            problem=f"A bead can't be open on {text[:40]} sides.", remedy="Give 1 or 2.", value=text[:40]
        )
    return int(sides)


def _answer_steady(bead: CuringBead, *, temp_c: str, rh: str) -> Answer:
    air = Air(temp_c=parse_number(temp_c, what="--temp-c"), rh=parse_number(rh, what="--rh"))
    found = cure_in_steady_air(bead, air)
    notices = []
    if 0 < air.rh < 1:
        notices.append(f"The humidity is read as {air.rh:g} %.")
    if found.hours is None:
        notices.append("Dry air does not cure a bead.")
    elif found.hours > LONGEST_TRACE_HOURS:
        notices.append(f"The trace stops after {LONGEST_TRACE_HOURS} hours.")
    return Answer(_values(found, [point.time for point in found.trace]), notices=notices)


def _answer_forecast(bead: CuringBead, *, path: Path, start: str) -> Answer:
    moment = parse_local_time(start)
    reading = read_forecast(_read_text(path))
    if reading.forecast is None:
        return Answer(problems=reading.problems, notices=reading.notices, refused=True)
    found = cure_over_forecast(bead, forecast=reading.forecast, start=moment)
    notices = list(reading.notices)
    if not found.is_reached:
        notices.append(
            f"The forecast ends at {reading.forecast.end.isoformat()}, before the bead is through."
        )
    return Answer(_values(found, reading.times), notices=notices)


def _read_text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise BadValue(
            problem=f"{path.name} can't be read as text.",
            remedy="Check the file's name; save it as CSV in UTF-8.",
            value=path,
        ) from error


def _values(found: Cure, times: Sequence[object]) -> dict[str, Any]:
    """Return the document; a forecast's `times` stand in the trace as its file writes them."""
    return {
        "hours": found.hours,
        "reached": found.is_reached,
        "vapour_pressure_pa": found.vapour_pressure_pa,
        "dew_point_c": found.dew_point_c,
        "trace": [
            {"time": when, "depth_mm": point.depth_mm} for when, point in zip(times, found.trace, strict=True)
        ],
    }
