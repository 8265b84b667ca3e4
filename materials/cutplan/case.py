"""A cut problem as the published JSON case, and its plan as the published answer. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any, TypeVar

from materials.cutplan.plan import CutPlan
from materials.cutplan.problem import CutProblem, Number, Offcut, Piece, Roll, plain
from projects.errors import BadValue

FINEST_DECIMALS = 9
MOST_DIGITS = 13
Item = TypeVar("Item")


def problem_of_case(case: Mapping[str, Any]) -> CutProblem:
    """Return the problem that `case` states; unknown keys are ignored.

    Numbers may be int, Decimal or Fraction. Raises BadValue for a missing key or a value of the wrong kind.
    """
    return CutProblem(
        rolls=_items(case, "rolls", _roll),
        pieces=_items(case, "pieces", _piece),
        offcuts=_items(case, "offcuts", _offcut) if case.get("offcuts") is not None else (),
        kerf=_allowance(case, "kerf"),
        usable_offcut=_allowance(case, "usable_offcut"),
        lap=_allowance(case, "lap"),
    )


def answer_of_plan(plan: CutPlan) -> dict[str, object]:
    """Return the plan's published keys, without problems and notices; `splices` only where there are any."""
    answer: dict[str, object] = {
        "status": plan.status.value,
        "cost": _shown(plan.cost),
        "bound": _shown(plan.bound),
        "gap": _shown(plan.gap),
        "seconds": plan.seconds,
        "cuts": [
            {"roll": cut.roll, "times": cut.times, "pieces": dict(cut.pieces), "left": _shown(cut.left)}
            for cut in plan.cuts
        ],
    }
    if plan.splices:
        answer["splices"] = [
            {"piece": splice.piece, "parts": {name: _shown(length) for name, length in splice.parts.items()}}
            for splice in plan.splices
        ]
    return answer


def _allowance(case: Mapping[str, Any], key: str) -> Number:
    return _number(case, key, "The case") if case.get(key) is not None else 0


def _roll(entry: Mapping[str, Any], where: str) -> Roll:
    return Roll(
        name=_name(entry, where),
        length=_number(entry, "length", where),
        cost=_number(entry, "cost", where),
        available=_whole(entry, "available", where) if entry.get("available") is not None else None,
    )


def _offcut(entry: Mapping[str, Any], where: str) -> Offcut:
    return Offcut(name=_name(entry, where), length=_number(entry, "length", where))


def _piece(entry: Mapping[str, Any], where: str) -> Piece:
    return Piece(
        name=_name(entry, where),
        length=_number(entry, "length", where),
        count=_whole(entry, "count", where),
        house=_text(entry, "house", where) if entry.get("house") is not None else "",
        may_splice=entry.get("splice") is True,
    )


def _items(
    case: Mapping[str, Any], key: str, read: Callable[[Mapping[str, Any], str], Item]
) -> tuple[Item, ...]:
    entries = _required(case, key, "The case")
    if not isinstance(entries, list) or not all(isinstance(entry, Mapping) for entry in entries):
        raise BadValue(
            problem=f"{key!r} is not a list of entries.", remedy='Write it as [{"name": ...}, ...].'
        )
    return tuple(read(entry, f"Entry {number} of {key!r}") for number, entry in enumerate(entries, start=1))


def _required(entry: Mapping[str, Any], key: str, where: str) -> Any:
    if entry.get(key) is None:
        raise BadValue(
            problem=f"{where} has no {key!r}.", remedy=f"Add {key!r}; see the user guide's cut plan case."
        )
    return entry[key]


def _name(entry: Mapping[str, Any], where: str) -> str:
    return _text(entry, "name", where)


def _text(entry: Mapping[str, Any], key: str, where: str) -> str:
    text = _required(entry, key, where)
    if not isinstance(text, str):
        raise BadValue(problem=f"{where} has a {key} that is not text.", remedy=f"Put the {key} in quotes.")
    return text


def _number(entry: Mapping[str, Any], key: str, where: str) -> Number:
    value = _required(entry, key, where)
    if isinstance(value, bool) or not isinstance(value, int | Decimal | Fraction):
        raise BadValue(
            problem=f"{where}: {key!r} is not a number.",
            remedy="Write it as 54 or 54.5, without quotes.",
            value=value,
        )
    if isinstance(value, Decimal) and not _is_plain(value):
        raise BadValue(
            problem=f"{where}: {key!r} has too many digits.",
            remedy=f"Use at most {MOST_DIGITS} digits before the point and {FINEST_DECIMALS} after it.",
            value=value,
        )
    return plain(Fraction(value))


def _is_plain(value: Decimal) -> bool:
    """Return whether `value` is finite and short: 1e999999 would fill the memory before any limit is seen."""
    if not value.is_finite():
        return False
    exponent = value.as_tuple().exponent
    return isinstance(exponent, int) and exponent >= -FINEST_DECIMALS and value.adjusted() < MOST_DIGITS


def _whole(entry: Mapping[str, Any], key: str, where: str) -> int:
    value = _number(entry, key, where)
    if not isinstance(value, int):
        raise BadValue(
            problem=f"{where}: {key!r} is not a whole number.",
            remedy="Write it as 1, 2, 3 ...",
            value=float(value),
        )
    return value


def _shown(value: Number | None) -> int | float | None:
    """Return an exact figure as JSON carries it: whole numbers as such, others as the nearest float."""
    if value is None:
        return None
    simple = plain(value)
    return simple if isinstance(simple, int) else float(simple)
