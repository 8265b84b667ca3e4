"""Lengths as people write them: 36 1/2", 3'-0 1/2", 914 mm; refused where two readings are possible. Pure."""

from __future__ import annotations

import re
from fractions import Fraction
from math import gcd

from projects.errors import BadValue
from projects.quantities.length import NM_PER_INCH, Length

LONGEST_TEXT = 64
FINEST = 64

_SAME = str.maketrans(
    {
        "’": "'", "‘": "'", "′": "'", "‛": "'", "´": "'", "`": "'",
        "”": '"', "“": '"', "″": '"', "‟": '"',
        "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-",
        "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ",
        "⁄": "/",
    }
)  # fmt: skip
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_FOOT = r"(?:'|ft\.?|feet|foot)"
_INCH = r"(?:\"|inches|inch|in\.?)"
_DECIMAL = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_FRACTION = r"[0-9]+/[0-9]+"
_MIXED = (
    rf"(?:(?P<whole>[0-9]+)(?:\s*-\s*|\s+)(?P<part>{_FRACTION})"
    rf"|(?P<alone>{_FRACTION})|(?P<decimal>{_DECIMAL}))"
)
_INCHES = re.compile(rf"{_MIXED}\s*{_INCH}?")
_FEET_ONLY = re.compile(rf"{_MIXED}\s*{_FOOT}")
_FEET_INCHES = re.compile(rf"(?P<feet>[0-9]+)\s*{_FOOT}\s*-?\s*(?P<rest>[^\s].*)")
_METRIC = re.compile(rf"(?P<number>{_DECIMAL})\s*(?P<unit>mm|cm|m)\.?")
_AMBIGUOUS = re.compile(rf"[0-9]+\s*-\s*[0-9]+(?:\.[0-9]+)?(?:\s+{_FRACTION}|-{_FRACTION})?\s*{_INCH}?")
_COMMA = re.compile(r",[0-9]")
_MM_PER = {"mm": 1, "cm": 10, "m": 1000}
_EXAMPLES = "Write it as 36 1/2, 3'-0 1/2\" or 914 mm."


def parse_length(text: str, *, decimal_comma: bool = False) -> Length:
    """Return the length that `text` states; a bare number is inches.

    `decimal_comma` reads `1,8 m` as 1.8 m; it holds for a whole file, never for one value.
    Raises BadValue where the text is no length or has two readings.
    """
    plain = _normal(text, decimal_comma=decimal_comma)
    if _AMBIGUOUS.fullmatch(plain):
        raise BadValue(
            problem=f"“{text}” may be feet and inches, or inches and a fraction.",
            remedy='Put a foot mark after feet (3\'-6"), a fraction after inches (36-1/2").',
            value=text,
        )
    if match := _METRIC.fullmatch(plain):
        return Length.mm(Fraction(match["number"]) * _MM_PER[match["unit"]])
    if match := _FEET_ONLY.fullmatch(plain):
        return Length.inches(12 * _number(match, text))
    if match := _FEET_INCHES.fullmatch(plain):
        return _feet_and_inches(match, text)
    if match := _INCHES.fullmatch(plain):
        return Length.inches(_number(match, text))
    raise BadValue(problem=f"“{text}” is not a length.", remedy=_EXAMPLES, value=text)


def format_length(length: Length) -> str:
    """Return inches exactly: `36 1/2"` in sixty-fourths, else exact millimetres: `914.3 mm`."""
    sixty_fourths, rest = divmod(length.nm * FINEST, NM_PER_INCH)
    if rest == 0:
        return _mixed(sixty_fourths, FINEST) + '"'
    millimetres, nanometres = divmod(abs(length.nm), 10**6)
    sign = "-" if length.nm < 0 else ""
    decimals = f".{nanometres:06d}".rstrip("0").rstrip(".")
    return f"{sign}{millimetres}{decimals} mm"


def format_rounded(length: Length, *, nearest: int = 16) -> str:
    """Return inches rounded half up to 1/`nearest`, for screens and paper: `36 1/2"`."""
    parts = (2 * length.nm * nearest + NM_PER_INCH) // (2 * NM_PER_INCH)
    return _mixed(parts, nearest) + '"'


def format_feet(length: Length, *, nearest: int = 16) -> str:
    """Return feet and inches rounded half up to 1/`nearest`: `3'-0 1/2"`."""
    parts = (2 * length.nm * nearest + NM_PER_INCH) // (2 * NM_PER_INCH)
    feet, rest = divmod(parts, 12 * nearest)
    # a carpenter writes the nought: 8'-0 1/2", never 8'-1/2"
    nought = "0 " if 0 < rest < nearest else ""
    return f"{feet}'-{nought}{_mixed(rest, nearest)}\""


def _normal(text: str, *, decimal_comma: bool) -> str:
    if len(text) > LONGEST_TEXT:
        raise BadValue(
            problem=f"“{text[:LONGEST_TEXT]}…” is too long for a length.", remedy=_EXAMPLES, value=text
        )
    plain = text.translate(_SAME).replace("''", '"')
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    plain = re.sub(r"-\s+(?=[0-9]+/)", "-", plain).strip().lower()
    if _COMMA.search(plain):
        if not decimal_comma or "." in plain or plain.count(",") > 1:
            raise BadValue(
                problem=f"“{text}” has a comma in a number.",
                remedy="Write decimals with a point, and no thousands separator.",
                value=text,
            )
        plain = plain.replace(",", ".")
    return plain


def _feet_and_inches(match: re.Match[str], text: str) -> Length:
    inches = _INCHES.fullmatch(match["rest"].strip())
    # 1'000 is a thousand parted by a mark, not one foot
    if inches is None or re.match("[0-9]{3}", match["rest"]):
        raise BadValue(problem=f"“{text}” is not a length.", remedy=_EXAMPLES, value=text)
    value = _number(inches, text)
    if value >= 12:
        raise BadValue(
            problem=f"“{text}” has 12 or more inches after the feet.",
            remedy="Write the inches after a foot mark as 0 to 11 and a fraction.",
            value=text,
        )
    return Length.inches(12 * int(match["feet"]) + value)


def _number(match: re.Match[str], text: str) -> Fraction:
    if match["decimal"] is not None:
        return Fraction(match["decimal"])
    above, below = (int(part) for part in (match["part"] or match["alone"]).split("/"))
    # 361/2 is 36 1/2 with its space lost far more often than 180 1/2: improper fractions are refused
    if below == 0 or FINEST % below or above >= below:
        raise BadValue(
            problem=f"“{text}” has a fraction that no tape measure shows.",
            remedy="Use halves, quarters, eighths, sixteenths, 32nds or 64ths.",
            value=text,
        )
    return int(match["whole"] or 0) + Fraction(above, below)


def _mixed(parts: int, per_whole: int) -> str:
    sign = "-" if parts < 0 else ""
    whole, part = divmod(abs(parts), per_whole)
    if not part:
        return f"{sign}{whole}"
    common = gcd(part, per_whole)
    shown = f"{part // common}/{per_whole // common}"
    return f"{sign}{whole} {shown}" if whole else f"{sign}{shown}"
