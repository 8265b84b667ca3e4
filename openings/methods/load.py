"""Reads the method files: one TOML file is one method. Pure but for reading its own folder."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from openings.methods.build import build_method, item_names
from openings.methods.method import Method
from openings.methods.tables import Table
from projects.errors import BadValue

FOLDER = Path(__file__).parent / "data"
COMMON = "common.toml"


@cache
def load_methods(folder: Path = FOLDER) -> Mapping[str, Method]:
    """Return the methods by code, in the order of their codes.

    Raises BadValue, saying file and key, where a file cannot be used.
    """
    common = _read(folder / COMMON)
    methods: dict[str, Method] = {}
    for path in sorted(folder.glob("*.toml")):
        if path.name == COMMON:
            continue
        method = build_method(_read(path), common)
        if method.code in methods:
            raise BadValue(
                problem=f"{path.name}: code {method.code!r} is another file's.",
                remedy="Give the method a code of its own.",
                value=method.code,
            )
        methods[method.code] = method
    return MappingProxyType(methods)


def load_method(code: str) -> Method:
    """Return the method with `code`, in either case. Raises BadValue where there is none."""
    methods = load_methods()
    if code in methods:
        return methods[code]
    for known, method in methods.items():
        if known.casefold() == code.strip().casefold():
            return method
    raise BadValue(
        problem=f"{code!r} is no method we know.", remedy=f"Use one of: {', '.join(methods)}.", value=code
    )


@cache
def known_items() -> tuple[str, ...]:
    """Return everything that an order of work may name."""
    return item_names(_read(FOLDER / COMMON), tuple(load_methods().values()))


def _read(path: Path) -> Table:
    try:
        return Table(path.name, tomllib.loads(path.read_text(encoding="utf-8")))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise BadValue(
            problem=f"{path.name} can't be read: {error}.", remedy="Correct the file.", value=path.name
        ) from None
