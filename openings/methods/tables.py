"""How a table of a method file is read: every key known and of its kind, or refused by file and key. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, get_args

from openings.methods.choices import CHOICE_VALUES, Condition
from openings.methods.steps import Grade
from projects.errors import BadValue
from projects.quantities.duration import Duration
from projects.quantities.length import Length

GRADES: tuple[str, ...] = get_args(Grade)


@dataclass(frozen=True, slots=True)
class Table:
    """One table of a file. `place` names file and table, as in `B1.toml, lap 3`."""

    place: str
    values: Mapping[str, Any]

    def refusal(self, problem: str, remedy: str, value: object = None) -> BadValue:
        """Return a refusal that says where."""
        return BadValue(problem=f"{self.place}: {problem}", remedy=remedy, value=value)

    def refuse_other_keys(self, known: Iterable[str]) -> None:
        """Raise BadValue where the table has a key that nobody reads."""
        for key in self.values:
            if key not in known:
                raise self.refusal(f"key {key!r} is not known.", f"Use: {', '.join(known)}.", key)

    def text(self, key: str, known: Iterable[str] | None = None) -> str:
        """Return the text of `key`; one of `known` where given."""
        value = self.values.get(key)
        if not isinstance(value, str) or not value.strip():
            raise self.refusal(f"key {key!r} is missing or no text.", f"Give {key} as text.", value)
        if known is not None and value not in known:
            raise self.refusal(f"{key} {value!r} is not known.", f"Use one of: {', '.join(known)}.", value)
        return value

    def texts(self, key: str, known: Iterable[str] | None = None) -> tuple[str, ...]:
        """Return the texts of `key`, none where the key is absent; each one of `known` where given."""
        values = self.values.get(key, [])
        if not isinstance(values, list) or not all(isinstance(value, str) for value in values):
            raise self.refusal(f"key {key!r} is no list of texts.", f'Give {key} as ["...", "..."].', values)
        if len(set(values)) < len(values):
            raise self.refusal(f"{key} names something twice.", "Name each once.", values)
        for value in values:
            if known is not None and value not in known:
                raise self.refusal(f"{key} names {value!r}, which is not known.", "Correct the name.", value)
        return tuple(values)

    def flag(self, key: str) -> bool:
        """Return the truth of `key`, false where it is absent."""
        value = self.values.get(key, False)
        if not isinstance(value, bool):
            raise self.refusal(f"key {key!r} is neither true nor false.", "Write true or false.", value)
        return value

    def number(self, key: str, *, negative: bool = False) -> Fraction:
        """Return the number of `key` exactly: a number, or a text such as "1.4"."""
        value = self.values.get(key)
        try:
            if isinstance(value, bool) or value is None:
                raise ValueError
            number = Fraction(value)
        except (ValueError, TypeError, ZeroDivisionError, OverflowError):
            raise self.refusal(f"key {key!r} is missing or no number.", f"Give {key}.", value) from None
        if number < 0 and not negative:
            raise self.refusal(f"{key} is below zero.", f"Give {key} as 0 or more.", value)
        return number

    def inches(self, key: str, *, negative: bool = False) -> Length:
        """Return the length of `key`, which is in inches."""
        return Length.inches(self.number(key, negative=negative))

    def minutes(self, key: str) -> Duration:
        """Return the time of `key`, which is in minutes."""
        return Duration.minutes(self.number(key))

    def count(self, key: str) -> int:
        """Return the whole number of `key`."""
        number = self.number(key)
        if number.denominator != 1:
            raise self.refusal(f"{key} is no whole number.", f"Give {key} as a whole number.", number)
        return int(number)

    def grade(self) -> Grade:
        """Return the table's grade; every value of a method has one."""
        grade: Any = self.text("grade", GRADES)
        return grade  # type: ignore[no-any-return]  # checked against the literal's own values

    def source(self) -> str:
        """Return the table's source; every value of a method has one."""
        return self.text("source")

    def condition(self) -> Condition:
        """Return the table's `when`, checked against the choices there are."""
        return self.inner("when").as_condition() if "when" in self.values else Condition()

    def as_condition(self) -> Condition:
        """Return this table read as a condition."""
        self.refuse_other_keys(tuple(CHOICE_VALUES))
        return Condition(tuple((name, self.texts(name, CHOICE_VALUES[name])) for name in self.values))

    def inner(self, key: str) -> Table:
        """Return the table within, under `key`."""
        value = self.values.get(key)
        if not isinstance(value, Mapping):
            raise self.refusal(f"key {key!r} is missing or no table.", f"Give {key} as a table.", value)
        return Table(f"{self.place}, {key}", value)

    def rows(self, key: str) -> Sequence[Table]:
        """Return the array of tables under `key`, each with its place; empty where absent."""
        values = self.values.get(key, [])
        if not isinstance(values, list) or not all(isinstance(value, Mapping) for value in values):
            raise self.refusal(f"key {key!r} is no list of tables.", f"Write each as [[{key}]].", values)
        return [Table(f"{self.place}, {key} {number}", value) for number, value in enumerate(values, 1)]
