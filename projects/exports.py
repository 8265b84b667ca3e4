"""Text on its way into a file that a spreadsheet opens: what would run as a formula is made inert. Pure."""

from __future__ import annotations

import re

_LIVE = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")


def inert(text: str) -> str:
    """Return the text with an apostrophe in front where a spreadsheet would take it for a formula.

    Numbers stay numbers, negative ones too. Source: OWASP, "CSV Injection" (leading = + - @ TAB CR).
    """
    bare = text.lstrip(" \u00a0\u200b\ufeff")
    if bare.startswith(_LIVE) and not _NUMBER.fullmatch(text):
        return f"'{text}"
    return text
