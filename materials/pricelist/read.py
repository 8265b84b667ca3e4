"""Reads a supplier's price list, CSV or XLSX: each row becomes a price of a pack or a problem. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal, InvalidOperation

from materials.catalogue.material import Catalogue, Material
from materials.pricelist.terms import Break, check_breaks
from openings.schedule.cells import Cell, Cells, text_of
from openings.schedule.files import Tables, tables_of
from projects.errors import BadValue
from projects.problems import Problem

HEADERS: Mapping[str, tuple[str, ...]] = {
    "material": ("material", "item", "product", "description"),
    "pack": ("pack", "unit", "packaging", "uom", "sold as"),
    "packs_from": ("from packs", "packs from", "from quantity", "min qty", "break quantity"),
    "price": ("price", "net price", "price per pack", "each", "unit price"),
    "valid_from": ("valid from", "from", "date", "effective", "effective date"),
    "source": ("source", "note", "reference"),
}
"""What a list's columns may be called, in any case of letters."""

NEEDED = ("material", "pack", "price")
TOP_ROWS = 20
MOST_ROWS = 5_000
HIGHEST = Decimal(1_000_000)
LEAST_NOISE = Decimal("0.000001")
"""Cents: what a spreadsheet's binary fractions may be off by."""

_Key = tuple[str, str, date | None, int]
_PRICE = re.compile(r"\$?\s*(?P<number>\d[\d,.]*)(?:\s*[A-Z]{3})?")


@dataclass(frozen=True, slots=True)
class ListedPrice:
    """One pack's price as the list has it, with what it costs from so many packs on.

    `valid_from` is None where the list does not say.
    """

    row: int
    material: str
    pack: str
    cents: int
    valid_from: date | None = None
    source: str = ""
    breaks: tuple[Break, ...] = ()


@dataclass(frozen=True, slots=True)
class PriceList:
    """What a list says: its prices in the order of the file, and what of it can't be read."""

    prices: tuple[ListedPrice, ...]
    problems: tuple[Problem, ...]


def read_price_list(content: bytes, catalogue: Catalogue) -> PriceList:
    """Return the prices of the first sheet that has a material, a pack and a price on each row.

    Materials and packs are given by their key or their name in the catalogue. A pack's rows from more than
    one pack on are its breaks. Raises FileRefused for a file
    that is too large or no table, BadValue where no row names the columns.
    """
    tables = tables_of(content, known=lambda texts: len(_columns(texts)))
    rows, columns = _header(tables)
    prices: list[tuple[ListedPrice, int]] = []
    problems: list[Problem] = []
    seen: dict[_Key, int] = {}
    for number, cells in rows:
        entry = {name: cells[at] if at < len(cells) else "" for name, at in columns.items()}
        if not any(text_of(cell).strip() for cell in entry.values()):
            continue
        if len(prices) + len(problems) >= MOST_ROWS:
            raise BadValue(problem=f"The list has more than {MOST_ROWS:,} rows.", remedy="Send it in parts.")
        try:
            price, packs = _price_of(number, entry, catalogue)
            key = (price.material, price.pack, price.valid_from, packs)
            if key in seen:
                raise _wrong(
                    "pack", text_of(entry["pack"]), f"Row {seen[key]} has the same pack.", "Keep one."
                )
            seen[key] = number
        except BadValue as error:
            problems.append(_problem(number, error))
        else:
            prices.append((price, packs))
    whole, apart = _with_breaks(prices)
    return PriceList(whole, tuple(sorted([*problems, *apart], key=lambda problem: problem.row or 0)))


def _with_breaks(rows: Sequence[tuple[ListedPrice, int]]) -> tuple[tuple[ListedPrice, ...], list[Problem]]:
    """Return each pack's price with its breaks, and a problem for each pack whose rows do not fit."""
    steps: dict[tuple[str, str, date | None], list[tuple[ListedPrice, int]]] = {}
    for price, packs in rows:
        steps.setdefault((price.material, price.pack, price.valid_from), []).append((price, packs))
    whole: list[ListedPrice] = []
    problems: list[Problem] = []
    for found in steps.values():
        first = next((price for price, packs in found if packs == 1), None)
        try:
            if first is None:
                raise _wrong(
                    "packs_from", str(found[0][1]), "No row has the price from 1 pack on.", "Add it."
                )
            breaks = [(packs, price.cents) for price, packs in found if packs > 1]
            whole.append(replace(first, breaks=check_breaks(breaks, price=first.cents)))
        except BadValue as error:
            problems.append(_problem(found[0][0].row, error))
    return tuple(whole), problems


def _problem(row: int, error: BadValue) -> Problem:
    column = str(error.parameters["field"]) or None
    return Problem(error.problem, error.remedy, row, column, str(error.value))


def _header(tables: Tables) -> tuple[Iterator[tuple[int, Cells]], dict[str, int]]:
    """Return the rows below the first row that names all needed columns, and where each column stands."""
    for table in tables.tables:
        rows = table.rows()
        for tried, (_, cells) in enumerate(rows):
            columns = _columns([text_of(cell) for cell in cells])
            if all(name in columns for name in NEEDED):
                return rows, columns
            if tried >= TOP_ROWS:
                break
    raise BadValue(
        problem="No row names the columns material, pack and price.",
        remedy="Put these three words above the columns. The list of today's prices shows how.",
    )


def _columns(texts: Sequence[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, text in enumerate(texts):
        word = " ".join(text.lower().replace("_", " ").split())
        for name, words in HEADERS.items():
            if word in words:
                found.setdefault(name, at)
    return found


def _price_of(row: int, entry: Mapping[str, Cell], catalogue: Catalogue) -> tuple[ListedPrice, int]:
    """Return a row's price and from how many packs on it holds."""
    texts = {name: text_of(cell).strip() for name, cell in entry.items()}
    material = _material(texts["material"], catalogue)
    price = ListedPrice(
        row=row,
        material=material.key,
        pack=_pack(texts["pack"], material),
        cents=_cents(texts["price"]),
        valid_from=_day(texts.get("valid_from", "")),
        source=texts.get("source", "")[:200],
    )
    return price, _packs(texts.get("packs_from", ""))


def _material(text: str, catalogue: Catalogue) -> Material:
    for material in catalogue.materials.values():
        if text.lower() in (material.key.lower(), material.name.lower()):
            return material
    remedy = "Give a material's name as under Prices, or take the row out."
    raise _wrong("material", text, f"{text!r} is no material of ours." if text else "No material.", remedy)


def _pack(text: str, material: Material) -> str:
    for pack in material.packs:
        if text.lower() in (pack.label.key.lower(), pack.label.name.lower()):
            return pack.label.key
    known = ", ".join(pack.label.name for pack in material.packs)
    raise _wrong("pack", text, f"{material.name} is not sold as {text!r}.", f"Give one of: {known}.")


def _cents(text: str) -> int:
    """Return a price in cents: 12.50, $12.50, 1,234.50, 12,50. Raises BadValue for all else."""
    remedy = "Give what one pack costs, such as 41.00."
    match = _PRICE.fullmatch(text)
    if match is None:
        raise _wrong("price", text, f"{text!r} is no price." if text else "No price.", remedy)
    number = match["number"]
    if re.fullmatch(r"\d+,\d{2}", number):
        number = number.replace(",", ".")
    elif not re.fullmatch(r"\d{1,3}(,\d{3})*(\.\d+)?|\d+(\.\d+)?", number):
        raise _wrong("price", text, f"{text!r} can be read in two ways.", remedy)
    try:
        amount = Decimal(number.replace(",", ""))
    except InvalidOperation as error:
        raise _wrong("price", text, f"{text!r} is no price.", remedy) from error
    cents = round(amount * 100)
    if abs(amount * 100 - cents) > LEAST_NOISE:
        raise _wrong("price", text, f"{text} has parts of a cent.", "Round it to the cent.")
    if not 0 < amount <= HIGHEST:
        raise _wrong("price", text, f"{text} can't be the price of a pack.", remedy)
    return cents


def _packs(text: str) -> int:
    """Return a number of packs, 1 where nothing is said."""
    digits = text.removesuffix(".0") or "1"
    if not re.fullmatch(r"[1-9]\d{0,5}", digits):
        raise _wrong("packs_from", text, f"{text!r} is no number of packs.", "Give a whole number from 1 on.")
    return int(digits)


def _day(text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text[:10] if text[10:] in {" 00:00:00", "T00:00:00"} else text)
    except ValueError:
        raise _wrong("valid_from", text, f"{text!r} is no day.", "Write it as 2026-06-01.") from None


def _wrong(column: str, value: str, problem: str, remedy: str) -> BadValue:
    return BadValue(problem=problem, remedy=remedy, field=column, value=value)
