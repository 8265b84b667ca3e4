"""What a cut list's page and papers show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from zoneinfo import ZoneInfo

from materials.catalogue.load import load_catalogue
from materials.cutlist.bars import draw_bar
from materials.errors import NotIssued
from materials.exchange.table import Table, Value, in_inches
from materials.models import CutList, CutRoll, PurchaseOrder
from materials.selectors.cutting import is_stale, strips_to_cut
from openings.drawing.shapes import Drawing
from projects.models import Company, House
from projects.problems import Problem
from projects.quantities.length import Length
from projects.quantities.text import format_rounded
from projects.selectors import row_of

COLUMNS = (
    *("material", "no.", "roll", "roll length in", "lot", "place", "cut on"),
    *("strip", "length in", "house", "mark", "part", "left in"),
)


@dataclass(frozen=True, slots=True)
class StripShown:
    """One strip: its number on the roll and where it goes."""

    number: int
    house: str
    mark: str
    part: str
    splice: str
    zone: str
    length: Length

    @property
    def name(self) -> str:
        """Return the part, with its side where there are two, and which half of a splice it is."""
        side, _, place = self.zone.partition(" ")
        name = f"{side} {self.part}" if place == "jamb" else self.part
        return f"{name}, {self.splice}" if self.splice else name


@dataclass(frozen=True, slots=True)
class RollShown:
    """One roll as it is cut: `pack` in words, the bar to scale, the strips in order."""

    row: CutRoll
    pack: str
    bar: Drawing
    strips: tuple[StripShown, ...]
    left: Length
    bar_length: Length


@dataclass(frozen=True, slots=True)
class MaterialShown:
    """The rolls of one material, in the order in which they are cut; `noun` is roll or stick."""

    key: str
    name: str
    rolls: tuple[RollShown, ...]
    noun: str
    strips: int
    to_come: int


@dataclass(frozen=True, slots=True)
class CutPage:
    """A cut list, or what one could be made of. `wanted` counts the strips that are still to be cut."""

    row: CutList
    materials: tuple[MaterialShown, ...]
    problems: tuple[Problem, ...]
    wanted: int
    is_stale: bool
    houses: tuple[str, ...]

    @property
    def name(self) -> str:
        """Return what the list is for: the house's code, or the day."""
        if self.row.house:
            return self.row.house.code
        if self.row.order:
            return f"order {self.row.order.number}"
        return f"{self.row.day:%a} {self.row.day.day} {self.row.day:%b %Y}" if self.row.day else ""

    @property
    def file_name(self) -> str:
        """Return the name that its papers are saved under."""
        return f"cut-list-{self.row.house.code.lower() if self.row.house else self.row.order or self.row.day}"

    @property
    def is_made(self) -> bool:
        """Return whether there is a list at all."""
        return self.row.pk is not None

    @property
    def is_cut(self) -> bool:
        """Return whether every roll of it was cut."""
        return bool(self.materials) and all(
            roll.row.cut_at for material in self.materials for roll in material.rolls
        )


def house_cut_page(company: Company, pk: int) -> CutPage:
    """Return a house's cut list. Raises NotThere."""
    house = row_of(House, company, pk, "project")
    row = CutList.objects.of(company).filter(house=house).first()
    return _page(row or CutList(company=company, house=house))


def day_cut_page(company: Company, day: date) -> CutPage:
    """Return the cut list of the elevations that are needed on a day."""
    row = CutList.objects.of(company).filter(day=day).first()
    return _page(row or CutList(company=company, day=day))


def order_cut_page(company: Company, pk: int) -> CutPage:
    """Return the cut list of an issued order's rolls. Raises NotThere, NotIssued."""
    order = row_of(PurchaseOrder, company, pk)
    if order.number is None:
        raise NotIssued
    row = CutList.objects.of(company).filter(order=order).first()
    return _page(row or CutList(company=company, order=order))


def cut_page(company: Company, pk: int) -> CutPage:
    """Return a list by its key. Raises NotThere."""
    return _page(row_of(CutList, company, pk, "house__project", "order"))


def roll_shown(company: Company, pk: int) -> tuple[CutRoll, RollShown]:
    """Return one roll of a list. Raises NotThere."""
    row = row_of(CutRoll, company, pk, "cut_list__house", "cut_list__order", "lot", "place")
    return row, _roll(row, longest=row.length_nm)


def cut_table(page: CutPage) -> Table:
    """Return a row for each strip, roll by roll in the order of cutting; the rest stands with the last.

    What could not be laid out has a row at the end, which says why.
    """
    rows = [
        row for material in page.materials for roll in material.rolls for row in _rows(page, material, roll)
    ]
    empty = (None,) * (len(COLUMNS) - 1)
    told = [(f"Not laid out. {each.problem} {each.remedy}", *empty) for each in page.problems]
    return Table("Cut list", COLUMNS, (*rows, *told))


def _rows(page: CutPage, material: MaterialShown, roll: RollShown) -> Iterator[tuple[Value, ...]]:
    row, company = roll.row, page.row.company
    number = row.lot.number if row.lot else ""
    place = str(row.place) if row.place else "to come"
    cut_on = row.cut_at.astimezone(ZoneInfo(company.time_zone)).date() if row.cut_at else None
    head = (material.name, row.position, roll.pack, in_inches(roll.bar_length), number, place, cut_on)
    for strip in roll.strips:
        left = in_inches(roll.left) if strip is roll.strips[-1] else None
        yield (*head, strip.number, in_inches(strip.length), strip.house, strip.mark, strip.name, left)


def _page(row: CutList) -> CutPage:
    rolls = list(row.rolls.select_related("lot", "place", "offcut")) if row.pk else []
    grouped = groupby(sorted(rolls, key=_place_in_list), key=lambda roll: roll.material)
    materials = tuple(_material(key, list(of_key)) for key, of_key in grouped)
    to_cut = strips_to_cut(row)
    return CutPage(
        row=row,
        materials=materials,
        problems=tuple(_problem(told) for told in row.problems),
        wanted=sum(len(strips) for strips in to_cut.values()),
        is_stale=row.pk is not None and is_stale(row, rolls, to_cut),
        houses=tuple(sorted({strip["house"] for roll in rolls for strip in roll.strips})),
    )


def _place_in_list(roll: CutRoll) -> tuple[int, int]:
    return list(load_catalogue().materials).index(roll.material), roll.position


def _material(key: str, rolls: Sequence[CutRoll]) -> MaterialShown:
    material = load_catalogue().material(key)
    longest = max(roll.length_nm for roll in rolls)
    return MaterialShown(
        key=key,
        name=material.name,
        noun=material.packs[0].label.name.partition(" ")[0],
        rolls=tuple(_roll(roll, longest=longest) for roll in rolls),
        strips=sum(len(roll.strips) for roll in rolls),
        to_come=sum(roll.lot is None for roll in rolls),
    )


def _roll(row: CutRoll, *, longest: int) -> RollShown:
    material = load_catalogue().material(row.material)
    names = {pack.label.key: pack.label.name for pack in material.packs}
    pack = names.get(row.pack, row.pack) if row.pack else "offcut"
    strips = tuple(_strips(row))
    return RollShown(
        row=row,
        pack=pack,
        bar=draw_bar(
            row.length_nm,
            [strip.length.nm for strip in strips],
            longest=longest,
            name=f"No. {row.position}, {pack}",
        ),
        strips=strips,
        left=Length(row.left_nm),
        bar_length=Length(row.length_nm),
    )


def _strips(row: CutRoll) -> Iterator[StripShown]:
    for number, strip in enumerate(row.strips, 1):
        yield StripShown(
            number=number,
            house=strip["house"],
            mark=strip["mark"],
            part=strip["part"],
            splice=f"{strip['number']} of 2, laps {format_rounded(Length(strip['lap']))}"
            if strip.get("number")
            else "",
            zone=strip["zone"],
            length=Length(strip["length"]),
        )


def _problem(told: dict[str, str]) -> Problem:
    name = load_catalogue().material(told["material"]).name
    return Problem(f"{name}: {told['problem']}", told["remedy"])
