"""`takeoff (--file SCHEDULE | --house CODE)`: what the openings of a house need, and what to buy for them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from materials.catalogue.document import takeoff_document
from materials.catalogue.listing import listing
from materials.catalogue.rollup import roll_up_house
from openings.schedule.read import read_schedule, unused_match
from openings.takeoff.compute import take_off_house
from openings.takeoff.opening import OpeningInput
from openings.takeoff.settings import UnknownSetting, apply_settings, as_json
from openings.takeoff.specification import DEFAULT, Specification
from projects.choosing import add_actor_options, choose_actor
from projects.commandline import (
    Answer,
    AnswerCommand,
    WrongUsage,
    collect_match,
    collect_settings,
    problem_of,
    read_bytes,
)
from projects.errors import BadValue, NotThere
from projects.problems import Problem


@dataclass(frozen=True, slots=True)
class House:
    """What is to be taken off, wherever it came from."""

    specification: Specification
    openings: Sequence[OpeningInput] = ()
    problems: Sequence[Problem] = ()
    notices: Sequence[str] = ()


class Command(AnswerCommand):
    """Takes off a window schedule, or a house that is stored; a file needs no database."""

    help = "Take off a window schedule or a house: strips, beads, fasteners, patches, and rolls and tubes."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the file or the house, and settings over the specification's."""
        source = parser.add_mutually_exclusive_group(required=True)
        source.add_argument("--file", metavar="SCHEDULE", help="window schedule, CSV or XLSX")
        source.add_argument("--house", metavar="CODE", help="a house that is stored")
        parser.add_argument("--set", action="append", metavar="NAME=VALUE", help="change a setting")
        parser.add_argument("--match", action="append", metavar="THEIRS=ours,...", help="match headers")
        parser.add_argument("--sheet", metavar="NAME", help="the workbook's sheet")
        add_actor_options(parser)

    def answer(self, **options: Any) -> Answer:
        """Return the takeoff; one bad row or setting refuses it as a whole."""
        try:
            return _taken_off(options)
        except BadValue as error:
            return Answer(values={"openings": []}, problems=[problem_of(error)], refused=True)

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return the house's needs, then each opening's."""
        return listing(document) if "house" in document else ["Nothing was taken off."]


def _taken_off(options: Mapping[str, Any]) -> Answer:
    texts = collect_settings(options["set"])
    house = _from_file(options, texts) if options["file"] else _from_database(options, texts)
    takeoff = take_off_house(house.openings, house.specification)
    problems = sorted((*house.problems, *takeoff.problems), key=lambda problem: problem.row or 0)
    if problems:
        return Answer(
            values={"specification": as_json(house.specification), "openings": []},
            problems=problems,
            notices=house.notices,
            refused=True,
        )
    rollup = roll_up_house(takeoff.demand, takeoff.specification)
    return Answer(values=takeoff_document(takeoff, rollup), notices=(*house.notices, *takeoff.notices))


def _from_file(options: Mapping[str, Any], texts: Mapping[str, str]) -> House:
    specification = _with_settings(DEFAULT, texts)
    match = collect_match(options["match"])
    reading = read_schedule(
        read_bytes(options["file"]),
        filename=Path(options["file"]).name,
        specification=specification,
        match=match,
        sheet=options["sheet"],
    )
    return House(
        specification, reading.openings, reading.problems, (*unused_match(reading, match), *reading.notices)
    )


def _from_database(options: Mapping[str, Any], texts: Mapping[str, str]) -> House:
    from openings import selectors  # models: a file needs neither them nor a database

    company = choose_actor(dict(options)).company
    try:
        house = selectors.find_house(company, options["house"])
    except NotThere:
        raise BadValue(
            problem=f"There is no house {options['house']}.",
            remedy="Check the code, or create the house first.",
            value=options["house"],
        ) from None
    in_force = selectors.specification_in_force(house.project).specification
    return House(_with_settings(in_force, texts), selectors.opening_inputs(house))


def _with_settings(specification: Specification, texts: Mapping[str, str]) -> Specification:
    try:
        return apply_settings(specification, texts)
    except UnknownSetting as error:
        raise WrongUsage(str(error)) from None
