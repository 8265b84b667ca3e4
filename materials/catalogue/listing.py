"""The takeoff as a person reads it: what the house needs first, then each opening's lines. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from openings.takeoff.telling import tell
from projects.quantities.length import Length
from projects.quantities.text import format_feet, format_rounded

Document = Mapping[str, Any]


def listing(document: Document) -> list[str]:
    """Return the lines of `document`: rolls, tubes, fasteners and corner patches of the house first."""
    lines = ["House", *(f"  {label:<16}{text}" for label, text in _house(document))]
    for alike in _runs(document["openings"]):
        lines += ["", *_opening(alike)]
    return lines


def _runs(openings: Sequence[Document]) -> Iterator[list[Document]]:
    """Yield neighbouring openings that differ in nothing but their marks, listed once."""
    run: list[Document] = []
    for opening in openings:
        if run and {**opening, "mark": ""} != {**run[0], "mark": ""}:
            yield run
            run = []
        run.append(opening)
    if run:
        yield run


def _house(document: Document) -> Iterator[tuple[str, str]]:
    house, specification = document["house"], document["specification"]
    for width, rolls in house["rolls"].items():
        strips = house["strips"][width]
        for name, count in rolls.items():
            cut = f"{_count(strips['count'], 'strip')}, {_feet(strips['length_in'])} together"
            yield f'{width}" membrane', f"{_count(count, 'roll')} of {name} ({cut})"
    yield (
        "sealant",
        (
            f"{_count(house['cartridges'], 'tube')} of {specification['cartridge_floz']:g} fl oz "
            f"({house['sealant_in3']:.1f} in³ before {specification['sealant_waste']:.0%} waste)"
        ),
    )
    screw = house["screw_length_in"]
    reach = f", {_inches(screw)} long" if screw is not None else ""
    yield "fasteners", f"{house['fasteners']}{reach}"
    yield "corner patches", f"{house['corner_patches']}"
    yield from _others(house)


def _others(house: Document) -> Iterator[tuple[str, str]]:
    for label, key in (("pan corners", "pan_corners"), ("rigid pans", "rigid_pans"), ("shims", "shims")):
        if house[key]:
            yield label, f"{house[key]}"
    for label, key in (
        ("flap tape", "flap_tape_in"),
        ("backer rod", "backer_rod_in"),
        ("drip cap", "drip_cap_in"),
    ):
        if house[key]:
            yield label, _feet(house[key])
    if house["foam_in3"]:
        yield "foam", f"{house['foam_in3']:.1f} in³"


def _opening(alike: Sequence[Document]) -> Iterator[str]:
    opening = alike[0]
    marks = ", ".join(each["mark"] for each in alike)
    unit = f"{_inches(opening['unit_width_in'])} x {_inches(opening['unit_height_in'])}"
    rough = f"{_inches(opening['ro_width_in'])} x {_inches(opening['ro_height_in'])}"
    weight = f", {opening['weight_lb']:.0f} lb" if opening["weight_lb"] is not None else ""
    yield (
        f"{marks} ({opening['elevation']}): unit {unit}, RO {rough}{weight}, {opening['people']} people"
        f"{' each' if len(alike) > 1 else ''}"
    )
    for line in opening["lines"]:
        yield f"  {line['part']:<16}{line['zone']:<12}{_line(line)} [{line['grade']}]"
    for notice in opening["notices"]:
        yield f"  Note: {notice}"


def _line(line: Document) -> str:
    told = tell(line)
    if line["kind"] == "fasteners":
        return f"{line['count']} {told}"
    counted = line["kind"] in ("strip", "tape", "stick", "piece")
    return ", ".join((*([f"{line['count']}"] if counted else []), *([told] if told else [])))


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def _inches(inches: float) -> str:
    return format_rounded(Length.inches(inches))


def _feet(inches: float) -> str:
    return format_feet(Length.inches(inches))
