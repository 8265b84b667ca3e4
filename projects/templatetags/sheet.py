"""Numbers and names as a sheet shows them: fractions set, money with its sign, codes kept apart."""

from __future__ import annotations

import re
from collections.abc import Callable

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from projects.navigation import address_of
from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.quantities.text import format_feet, format_rounded

register = template.Library()

_FRACTION = re.compile(r"(?:(?<=\d)[ -])?(?<![\d/])(\d{1,2})/(\d{1,2})(?![\d/])")
_INITIALS = re.compile(r"\b(?:ro|wrb)\b")
_SIGNS = {"USD": "$"}


@register.filter
def fraction(text: object) -> SafeString:
    """Return the text with its fractions set: 36 1/2" as 36, a raised 1, a stroke, a lowered 2."""
    shown, at, parts = str(text), 0, []
    for match in _FRACTION.finditer(shown):
        parts.append(format_html("{}", shown[at : match.start()]))
        space = "\u2009" if match.start(1) > match.start() else ""
        parts.append(
            format_html(
                '{}<span class="fraction"><sup>{}</sup>\u2044<sub>{}</sub></span>',
                space,
                match[1],
                match[2],
            )
        )
        at = match.end()
    parts.append(format_html("{}", shown[at:]))
    return format_html_join("", "{}", ((part,) for part in parts))


@register.filter
def inches(length: Length | None) -> SafeString:
    """Return the length in inches to the sixteenth, its millimetres on hover; a dash where there is none."""
    return _measured(length, format_rounded)


@register.filter
def inches_as_text(length: Length) -> str:
    """Return the length in inches to the sixteenth as bare text, for attributes."""
    return format_rounded(length)


@register.filter
def feet(length: Length | None) -> SafeString:
    """Return the length in feet and inches to the sixteenth, its millimetres on hover."""
    return _measured(length, format_feet)


@register.filter
def millimetres(length: Length | None) -> SafeString:
    """Return the length in whole millimetres."""
    if length is None:
        return _missing()
    return format_html("<bdi>{}\u00a0mm</bdi>", whole_mm(length))


@register.filter
def whole_mm(length: Length) -> int:
    """Return the length in whole millimetres without their name, where it follows."""
    return (2 * length.nm + 10**6) // (2 * 10**6)


@register.filter
def money(amount: Money | None) -> SafeString:
    """Return the amount with thousands apart and its currency: $1,234.50, or 1,234.50 EUR."""
    if amount is None:
        return _missing()
    whole, cents = divmod(abs(amount.cents), 100)
    number = f"{whole:,}.{cents:02d}"
    minus = "\u2212" if amount.cents < 0 else ""
    sign = _SIGNS.get(amount.currency)
    if sign:
        return format_html("<bdi>{}{}{}</bdi>", minus, sign, number)
    return format_html("<bdi>{}{}\u00a0{}</bdi>", minus, number, amount.currency)


@register.filter
def words(name: object) -> str:
    """Return a column's, part's or setting's name as words: `ro_width` as RO width."""
    return _INITIALS.sub(lambda found: found[0].upper(), str(name).replace("_", " "))


@register.simple_tag
def page_address(url_name: str, *args: object) -> str:
    """Return the address of a page that another app may have, empty where none does."""
    return address_of(url_name, *args)


@register.inclusion_tag("components/fragment.html")
def fragment(name: str, *args: object, heading: str, link: str) -> dict[str, str]:
    """Return the part of a page that the app with the address `name` fills in; nothing where none has it."""
    return {"name": name, "address": address_of(name, *args), "heading": heading, "link": link}


def _measured(length: Length | None, say: Callable[[Length], str]) -> SafeString:
    if length is None:
        return _missing()
    text = say(length)
    return format_html('<bdi class="length" title="{} mm">{}</bdi>', whole_mm(length), fraction(text))


def _missing() -> SafeString:
    return format_html('<span class="missing">{}</span>', "\u2013")
