"""The specification's settings: changing them by name and text, and showing them. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from openings.takeoff.setting import Setting
from openings.takeoff.setting_table import GROUPS
from openings.takeoff.specification import Specification
from projects.errors import BadValue

SETTINGS: Mapping[str, Setting] = {setting.name: setting for _, group in GROUPS for setting in group}
ALL_STRIPS = "strip_width"
STRIP_WIDTHS = ("sill_strip_width", "jamb_strip_width", "head_strip_width")


class UnknownSetting(BadValue):
    """A setting that no specification has: a wrong call rather than a wrong value."""


def apply_settings(specification: Specification, texts: Mapping[str, str]) -> Specification:
    """Return `specification` with each named setting read from its text.

    `strip_width` sets all three strip widths; a width named by itself wins over it. Raises UnknownSetting,
    or BadValue where a text is not a value of its setting.
    """
    for name in texts:
        if name not in SETTINGS and name != ALL_STRIPS:
            raise UnknownSetting(
                problem=f"{name!r} is no setting.", remedy=f"Settings are: {', '.join(_names())}.", value=name
            )
    values: dict[str, Any] = {}
    if ALL_STRIPS in texts:
        all_three = replace(SETTINGS[STRIP_WIDTHS[0]], name=ALL_STRIPS)
        values |= dict.fromkeys(STRIP_WIDTHS, all_three.parse(texts[ALL_STRIPS]))
    for name, text in texts.items():
        if name != ALL_STRIPS:
            setting = SETTINGS[name]
            values[setting.field or name] = setting.parse(text)
    return replace(specification, **values)


def as_json(specification: Specification) -> dict[str, Any]:
    """Return every setting's value: inches, fluid ounces, shares, texts, true and false."""
    return {name: setting.shown(specification) for name, setting in SETTINGS.items()}


def _names() -> tuple[str, ...]:
    return (*SETTINGS, ALL_STRIPS)
