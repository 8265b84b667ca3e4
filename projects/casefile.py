"""Reads a JSON case file for a command: numbers exactly, and a refusal that names line and column."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

from projects.errors import BadValue

LARGEST_FILE = 20 * 1024 * 1024


def read_case(path: str) -> dict[str, Any]:
    """Return the object in the file at `path`, decimals as Decimal. Raises BadValue if unreadable."""
    name = Path(path).name
    try:
        if Path(path).stat().st_size > LARGEST_FILE:
            raise BadValue(
                problem=f"{name} is larger than 20 MB.", remedy="Split the case into smaller files."
            )
        text = Path(path).read_text(encoding="utf-8-sig")
    except OSError as error:
        raise BadValue(
            problem=f"{name} can't be opened: {error.strerror}.", remedy="Check the path.", value=path
        ) from error
    except UnicodeDecodeError as error:
        raise BadValue(
            problem=f"{name} is not UTF-8 text.", remedy="Save it again as UTF-8.", value=path
        ) from error
    case = _parsed(text, name)
    if not isinstance(case, dict):
        raise BadValue(
            problem=f"{name} holds no JSON object.", remedy="Put the case between { and }.", value=path
        )
    return case


def _parsed(text: str, name: str) -> Any:
    try:
        return json.loads(text, parse_float=Decimal, parse_constant=_refuse_constant)
    except json.JSONDecodeError as error:
        raise BadValue(
            problem=f"{name} is not JSON at line {error.lineno}, column {error.colno}: {error.msg}.",
            remedy="Correct that place and run it again.",
        ) from error
    except (ValueError, RecursionError, ArithmeticError) as error:
        raise BadValue(
            problem=f"{name} holds a number or a nesting that is too long to read.",
            remedy="Shorten it and run it again.",
        ) from error


def _refuse_constant(word: str) -> None:
    raise BadValue(
        problem=f"{word} is not a number.", remedy="Give a number, or leave the key out.", value=word
    )
