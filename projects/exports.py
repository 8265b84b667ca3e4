"""Text on its way into a file that a spreadsheet opens: what would run as a formula is made inert. Pure."""

from __future__ import annotations

import re

_SPACES = " \u00a0\u200b\ufeff"
_LIVE = "=+\\-@＝＋－＠"
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_STARTS_LIVE = re.compile(rf"[{_SPACES}]*[{_LIVE}\t\r\n]")
# where semicolons or tabs part the cells, a comma's quotation marks hold nothing together
_LIVE_IN_PARTS = re.compile(rf"(?<=[;\t\r\n])([{_SPACES}\"']*)(?=[{_LIVE}])")


def inert(text: str) -> str:
    """Return the text with an apostrophe in front where a spreadsheet would take it for a formula.

    Numbers stay numbers, negative ones too. A part after a semicolon, tab or line break gets its own
    apostrophe: spreadsheets of other countries start a cell there. Source: OWASP, "CSV Injection" (leading
    = + - @ TAB CR, and the separators).
    """
    if _NUMBER.fullmatch(text):
        return text
    parted = _LIVE_IN_PARTS.sub(r"\1'", text)
    return f"'{parted}" if _STARTS_LIVE.match(text) else parted
