"""Names and codes as people type them, cleaned or refused. Pure."""

from __future__ import annotations

import re
import unicodedata

from projects.errors import BadValue

LONGEST_CODE = 32
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")


def clean_text(value: str, *, field: str, what: str, longest: int, required: bool = True) -> str:
    """Return `value` without outer spaces, composed (NFC).

    Raises BadValue where it is empty though required, longer than `longest`, or has control characters.
    """
    text = unicodedata.normalize("NFC", value).strip()
    if required and not text:
        raise BadValue(problem=f"{what} is empty.", remedy="Type it in.", value=value, field=field)
    if any(unicodedata.category(sign) in {"Cc", "Cs", "Zl", "Zp"} for sign in text):
        raise BadValue(
            problem=f"{what} has a line break or a control character.",
            remedy="Type it again by hand.",
            value=value,
            field=field,
        )
    if len(text) > longest:
        raise BadValue(
            problem=f"{what} has {len(text)} characters.",
            remedy=f"Use up to {longest}.",
            value=value,
            field=field,
        )
    return text


def clean_code(value: str, *, field: str, what: str) -> str:
    """Return `value` as a code for commands and lists: letters, digits, hyphens, points, underscores."""
    code = clean_text(value, field=field, what=what, longest=LONGEST_CODE)
    if not _CODE.fullmatch(code):
        raise BadValue(
            problem=f"{what} {code!r} has signs that commands can't take.",
            remedy="Use letters, digits, hyphens and points, such as LOT-12.",
            value=value,
            field=field,
        )
    return code
