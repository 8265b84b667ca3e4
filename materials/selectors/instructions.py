"""Makers' instruction sheets: which is in force, which is old, how long a membrane may lie open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.catalogue.material import Material
from materials.compatibility.exposure import Limit, day_printed, months_before, shortest, usual_limit
from materials.models import InstructionSheet, SheetAge
from materials.selectors.orders import local_today
from openings.methods.method import Grade
from projects.models import Company

EXPOSED = ("membrane", "stretch membrane")
"""The words of the catalogue whose materials have an exposure limit."""
PUBLISHED: Grade = "P"


@dataclass(frozen=True, slots=True)
class SheetShown:
    """A sheet with its material's name; `is_old` says that the company wants a newer one looked for."""

    row: InstructionSheet
    material: str
    is_old: bool
    superseded_by: InstructionSheet | None

    @property
    def in_force(self) -> bool:
        """Return whether the crew works by it."""
        return self.row.withdrawn_at is None and self.superseded_by is None


@dataclass(frozen=True, slots=True)
class MaterialSheets:
    """A material of the catalogue with its sheets, the newest first."""

    material: Material
    sheets: tuple[SheetShown, ...]

    @property
    def in_force(self) -> SheetShown | None:
        """Return the sheet that holds."""
        return next((sheet for sheet in self.sheets if sheet.in_force), None)

    @property
    def others(self) -> tuple[SheetShown, ...]:
        """Return those that hold no more."""
        return tuple(sheet for sheet in self.sheets if not sheet.in_force)


@dataclass(frozen=True, slots=True)
class SheetsPage:
    """All sheets by material; `bare` are the materials that have none in force."""

    with_sheets: tuple[MaterialSheets, ...]
    bare: tuple[Material, ...]
    age: SheetAge


def sheet_age(company: Company) -> SheetAge:
    """Return after how many months a sheet is old; without a primary key where nobody has said so."""
    return SheetAge.objects.of(company).select_related("company").first() or SheetAge(company=company)


def sheets_page(company: Company) -> SheetsPage:
    """Return every sheet of the company, by material in catalogue order. Two queries."""
    age, today = sheet_age(company), local_today(company)
    rows: dict[str, list[InstructionSheet]] = {}
    for row in InstructionSheet.objects.of(company).select_related("added_by"):
        rows.setdefault(row.material, []).append(row)
    shown = [
        MaterialSheets(material, tuple(_shown(rows.get(key, []), material, today, age.months)))
        for key, material in load_catalogue().materials.items()
    ]
    return SheetsPage(
        with_sheets=tuple(each for each in shown if each.sheets),
        bare=tuple(each.material for each in shown if each.in_force is None),
        age=age,
    )


def sheets_in_force(company: Company, day: date) -> dict[str, SheetShown]:
    """Return by material the sheet that holds, and whether it is old on `day`. Two queries."""
    months = sheet_age(company).months
    newest: dict[str, InstructionSheet] = {}
    for row in InstructionSheet.objects.of(company).filter(withdrawn_at=None).order_by("dated", "id"):
        newest[row.material] = row
    materials = load_catalogue().materials
    return {
        key: SheetShown(row, materials[key].name, row.dated < months_before(day, months), None)
        for key, row in newest.items()
        if key in materials
    }


def exposure_limit(used: Iterable[str], sheets: Mapping[str, SheetShown]) -> Limit | None:
    """Return the shortest exposure limit of the used materials, None where no membrane is among them.

    A sheet in force that gives one is `P`, published by the maker; else common practice holds, and says so.
    """
    catalogue = load_catalogue()
    limits = []
    for key in used:
        material = catalogue.materials.get(key)
        if material is None or material.meets not in EXPOSED:
            continue
        sheet = sheets.get(key)
        if sheet is None or sheet.row.exposure_days is None:
            limits.append(usual_limit(material.name))
        else:
            source = f"{sheet.row.title}, {day_printed(sheet.row.dated)}"
            limits.append(Limit(sheet.row.exposure_days, material.name, PUBLISHED, source))
    return shortest(limits) if limits else None


def _shown(rows: list[InstructionSheet], material: Material, today: date, months: int) -> list[SheetShown]:
    newest = next((row for row in rows if row.withdrawn_at is None), None)
    return [
        SheetShown(
            row=row,
            material=material.name,
            is_old=row.dated < months_before(today, months),
            superseded_by=None if row is newest or row.withdrawn_at else newest,
        )
        for row in rows
    ]
