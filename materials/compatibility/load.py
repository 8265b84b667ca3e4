"""Reads the table of what fits what. Pure but for reading its own file."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType

from materials.compatibility.table import TOUCHING, Answer, Entry, Kind, PairTable, Part
from openings.methods.tables import Table
from projects.errors import BadValue

FILE = Path(__file__).parent / "data" / "pairs.toml"
LONGEST_KEY = 32


@cache
def load_pairs(file: Path = FILE) -> PairTable:
    """Return the table.

    Raises BadValue, saying which kind or pair, where a value is missing, unknown or there twice, where an
    entry has no reason, grade or source, and where a pair is of parts that do not touch.
    """
    table = _read(file)
    table.refuse_other_keys(("kind", "pair"))
    kinds: dict[str, Kind] = {}
    for row in table.rows("kind"):
        kind = _kind(row)
        if kind.key in kinds:
            raise row.refusal(f"key {kind.key!r} is there twice.", "Give each kind its own key.", kind.key)
        kinds[kind.key] = kind
    entries: dict[tuple[str, str], Entry] = {}
    for row in table.rows("pair"):
        entry = _entry(row, kinds)
        keys = entry.one, entry.other
        if keys in entries:
            raise row.refusal(f"{entry.one} and {entry.other} are there twice.", "Keep one entry.", keys)
        entries[keys] = entry
    return PairTable(MappingProxyType(kinds), MappingProxyType(entries))


def _kind(row: Table) -> Kind:
    row.refuse_other_keys(("part", "key", "name"))
    key = row.text("key")
    if len(key) > LONGEST_KEY or not key.replace("-", "").isalnum():
        raise row.refusal(f"key {key!r} does not fit into an address.", "Use letters and hyphens.", key)
    return Kind(Part(row.text("part", tuple(Part))), key, row.text("name"))


def _entry(row: Table, kinds: Mapping[str, Kind]) -> Entry:
    row.refuse_other_keys(("one", "other", "answer", "reason", "grade", "source"))
    one, other = row.text("one", kinds), row.text("other", kinds)
    parts = kinds[one].part, kinds[other].part
    if parts not in TOUCHING:
        raise row.refusal(f"{parts[0]} and {parts[1]} are no pair.", "See TOUCHING for the order.", one)
    return Entry(
        one=one,
        other=other,
        answer=Answer(row.text("answer", tuple(Answer))),
        reason=row.text("reason"),
        grade=row.grade(),
        source=row.source(),
    )


def _read(file: Path) -> Table:
    try:
        return Table(file.name, tomllib.loads(file.read_text(encoding="utf-8"), parse_float=Decimal))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise BadValue(
            problem=f"{file.name} can't be read: {error}.", remedy="Correct the file.", value=file.name
        ) from None
