"""Reads the catalogue: one TOML file is one material. Pure but for reading its own folder."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import get_args

from materials.catalogue.material import Catalogue, Material
from materials.catalogue.packaging import Box, Cartridge, Case, FoamCan, Label, Packaging, Price, Roll, Unit
from openings.methods.tables import Table
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.quantities.volume import Volume

FOLDER = Path(__file__).parent / "data"
WORDS = "words.toml"
PACK_KEYS = ("key", "kind", "name", "price", "grade", "source")
MATERIAL_KEYS = ("key", "name", "meets", "unit", "grade", "source", "size_in", "film_mil", "pack")
MIL = Length(25_400)


@cache
def load_catalogue(folder: Path = FOLDER) -> Catalogue:
    """Return the catalogue, its materials in the order of their files' names.

    Raises BadValue, saying file and key, where a value is missing, is no value, or has no grade or source.
    """
    materials: dict[str, Material] = {}
    for path in sorted(folder.glob("*.toml")):
        if path.name == WORDS:
            continue
        material = read_material(_read(path))
        if path.stem != material.key:
            raise BadValue(
                problem=f"{path.name}: the key is {material.key!r}.",
                remedy="Name the file as its key.",
                value=material.key,
            )
        materials[material.key] = material
    words = _read(folder / WORDS)
    together = words.inner("together")
    return Catalogue(
        MappingProxyType(materials),
        words.texts("by_others"),
        MappingProxyType({word: together.texts(word) for word in together.values}),
    )


def read_material(table: Table) -> Material:
    """Return the material of one file. Raises BadValue, saying file and key."""
    table.refuse_other_keys(MATERIAL_KEYS)
    unit: Unit = table.text("unit", get_args(Unit))  # type: ignore[assignment]  # checked against its values
    packs: dict[str, Packaging] = {}
    for row in table.rows("pack"):
        packaging = _pack(row, packs)
        if packaging.unit != unit:
            raise row.refusal(
                f"its kind counts {packaging.unit}, the material {unit}.", "Use a fitting kind."
            )
        if packaging.label.key in packs:
            raise row.refusal(f"key {packaging.label.key!r} is there twice.", "Give each its own key.")
        packs[packaging.label.key] = packaging
    if not packs:
        raise table.refusal("it has no pack.", "Say how it is sold under [[pack]].")
    return Material(
        key=table.text("key"),
        name=table.text("name"),
        meets=table.text("meets"),
        unit=unit,
        grade=table.grade(),
        source=table.source(),
        packs=tuple(packs.values()),
        size=table.inches("size_in") if "size_in" in table.values else None,
        film=MIL * table.number("film_mil") if "film_mil" in table.values else None,
    )


def _pack(row: Table, known: Mapping[str, Packaging]) -> Packaging:
    kind = row.text("kind", KINDS)
    read, keys = KINDS[kind]
    row.refuse_other_keys((*PACK_KEYS, *keys))
    packaging = read(row, known)
    if packaging.contains <= 0:
        raise row.refusal("it holds nothing.", "Give what is in it.")
    return packaging


def _label(row: Table) -> Label:
    price = None
    if "price" in row.values:
        price = Price(Money.of(_amount(row)), row.grade(), row.source())
    return Label(row.text("key"), row.text("name"), price)


def _amount(row: Table) -> Decimal:
    number = row.number("price")
    cents = number * 100
    if cents.denominator != 1:
        raise row.refusal(f"price {number} is no whole number of cents.", "Give dollars and cents.")
    return Decimal(int(cents)) / 100


def _roll(row: Table, _: Mapping[str, Packaging]) -> Packaging:
    return Roll(_label(row), Length.inches(row.number("length_ft") * 12))


def _cartridge(row: Table, _: Mapping[str, Packaging]) -> Packaging:
    return Cartridge(_label(row), Volume.fluid_ounces(row.number("fluid_ounces")))


def _foam_can(row: Table, _: Mapping[str, Packaging]) -> Packaging:
    nominal = Volume.cubic_inches(row.number("nominal_cubic_feet") * 12**3)
    return FoamCan(_label(row), nominal, row.number("real_share"))


def _box(row: Table, _: Mapping[str, Packaging]) -> Packaging:
    return Box(_label(row), row.count("pieces"))


def _case(row: Table, known: Mapping[str, Packaging]) -> Packaging:
    return Case(_label(row), known[row.text("of", known)], row.count("count"))


Reader = Callable[[Table, Mapping[str, Packaging]], Packaging]
KINDS: Mapping[str, tuple[Reader, tuple[str, ...]]] = MappingProxyType(
    {
        "roll": (_roll, ("length_ft",)),
        "stick": (_roll, ("length_ft",)),
        "cartridge": (_cartridge, ("fluid_ounces",)),
        "foam can": (_foam_can, ("nominal_cubic_feet", "real_share")),
        "box": (_box, ("pieces",)),
        "case": (_case, ("of", "count")),
    }
)


def _read(path: Path) -> Table:
    try:
        text = path.read_text(encoding="utf-8")
        return Table(path.name, tomllib.loads(text, parse_float=Decimal))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise BadValue(
            problem=f"{path.name} can't be read: {error}.", remedy="Correct the file.", value=path.name
        ) from None
