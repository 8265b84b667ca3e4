"""Which choices an opening has, and whether a condition on them holds. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from projects.errors import BadValue

YES_NO = ("yes", "no")
CHOICE_VALUES: Mapping[str, tuple[str, ...]] = {
    "over_fin": ("none", "membrane", "sealed"),
    "pan": ("membrane", "stretch", "rigid", "none"),
    "head_strip": YES_NO,
    "fin": ("fixed", "folding"),
    "corners": ("welded", "open"),
    "drip_cap": YES_NO,
    "air_seal": ("foam", "rod and bead", "none"),
    "primer": YES_NO,
    "water_test": YES_NO,
}


@dataclass(frozen=True, slots=True)
class Choices:
    """What was chosen for one opening. `Method.choices` builds it with the method's own over-fin detail.

    Raises BadValue where a value is not one of CHOICE_VALUES.
    """

    over_fin: str
    pan: str = "membrane"
    head_strip: bool = True
    fin: str = "fixed"
    corners: str = "welded"
    drip_cap: bool = False
    air_seal: str = "foam"
    primer: bool = False
    water_test: bool = False

    def __post_init__(self) -> None:
        """Refuse a value that nobody knows."""
        for field in fields(self):
            refuse_unknown(field.name, self.value(field.name))

    def value(self, name: str) -> str:
        """Return the choice `name` as text: yes or no where it is one of the two."""
        chosen = getattr(self, name)
        if isinstance(chosen, bool):
            return "yes" if chosen else "no"
        return str(chosen)


@dataclass(frozen=True, slots=True)
class Condition:
    """Holds where each named choice has one of its values; without any, always."""

    wanted: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def holds(self, choices: Choices) -> bool:
        """Return whether `choices` meet the condition."""
        return all(choices.value(name) in values for name, values in self.wanted)


ALWAYS = Condition()


def refuse_unknown(name: str, value: str) -> None:
    """Raise BadValue where `value` is none of the choice's values."""
    known = CHOICE_VALUES[name]
    if value not in known:
        raise BadValue(
            problem=f"{value!r} is no {name.replace('_', ' ')} we know.",
            remedy=f"Use one of: {', '.join(known)}.",
            value=value,
        )
