"""Whether an order of work laps like shingles, and which orders do. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from openings.methods.choices import Choices
from openings.methods.method import After, Lap, Method
from projects.errors import BadValue


@dataclass(frozen=True, slots=True)
class LapCheck:
    """What is wrong with an order: laps turned round, wrong order, layers missing, drainage blocked.

    `not_here` are named items that the choices do not have; nothing was judged about them.
    """

    reverse_laps: tuple[Lap, ...]
    wrong_order: tuple[After, ...]
    missing: tuple[str, ...]
    drainage_blocked: bool
    not_here: tuple[str, ...]

    @property
    def is_legal(self) -> bool:
        """Return whether nothing that is there leaks: a part of the order may be legal and not complete."""
        return not (self.reverse_laps or self.wrong_order or self.drainage_blocked)

    @property
    def is_complete(self) -> bool:
        """Return whether no layer is missing."""
        return not self.missing


def check_order(method: Method, choices: Choices, items: Sequence[str]) -> LapCheck:
    """Return what is wrong with `items`, the layers in the order in which they went on.

    Only the method's own pairs are judged, none is inferred. Raises BadValue where an item stands twice.
    """
    place = {name: number for number, name in enumerate(items)}
    if len(place) < len(items):
        twice = next(name for name in items if list(items).count(name) > 1)
        raise BadValue(problem=f"{twice!r} is named twice.", remedy="Name each layer once.", value=twice)
    here = {layer.name for layer in method.layers_for(choices)}
    judged = {name: number for name, number in place.items() if name in here}
    blockers = {blocker.name: blocker for blocker in method.blockers}
    return LapCheck(
        reverse_laps=tuple(lap for lap in _laps(method, choices) if _is_first(judged, lap.over, lap.under)),
        wrong_order=tuple(
            after for after in _afters(method, choices) if _is_first(judged, after.then, after.first)
        ),
        missing=tuple(
            layer.name
            for layer in method.layers_for(choices)
            if layer.name not in place and not layer.never_missing
        ),
        drainage_blocked=any(
            blocker.when.holds(choices) for name, blocker in blockers.items() if name in place
        ),
        not_here=tuple(name for name in items if name not in here and name not in blockers),
    )


def order_of(method: Method, choices: Choices) -> tuple[str, ...]:
    """Return the layers in an order in which they may be put on."""
    return tuple(layer.name for layer in method.layers_for(choices))


def precedence(method: Method, choices: Choices) -> tuple[tuple[str, str], ...]:
    """Return the pairs (first, then) of layers that the choices bring; a tuck binds nothing."""
    here = {layer.name for layer in method.layers_for(choices)}
    pairs = [(lap.under, lap.over) for lap in _laps(method, choices)]
    pairs += [(after.first, after.then) for after in _afters(method, choices)]
    return tuple(dict.fromkeys(pair for pair in pairs if here.issuperset(pair)))


def step_precedence(method: Method, choices: Choices) -> tuple[tuple[str, str], ...]:
    """Return the pairs (first, then) of step codes: from their layers, and from the steps' own order."""
    step_of = {layer.name: layer.step for layer in method.layers_for(choices)}
    here = {step.code for step in method.steps_for(choices)}
    pairs = [(step_of[first], step_of[then]) for first, then in precedence(method, choices)]
    pairs += [(first, step.code) for step in method.steps_for(choices) for first in step.after]
    return tuple(
        dict.fromkeys((first, then) for first, then in pairs if first != then and here >= {first, then})
    )


def step_laps(method: Method, choices: Choices) -> frozenset[tuple[str, str]]:
    """Return the pairs (under, over) of step codes of which one puts on what lies over the other's."""
    step_of = {layer.name: layer.step for layer in method.layers_for(choices)}
    laps = [(lap.under, lap.over) for lap in _laps(method, choices)]
    return frozenset(
        (step_of[under], step_of[over]) for under, over in laps if {under, over} <= step_of.keys()
    )


def refuse_broken_order(method: Method, *, place: str) -> None:
    """Raise BadValue where the order of the file's layers or steps breaks its laps. `place`: the file."""
    layers = {layer.name: number for number, layer in enumerate(method.layers)}
    steps = {step.code: number for number, step in enumerate(method.steps)}
    step_of = {layer.name: layer.step for layer in method.layers}
    pairs = [(lap.under, lap.over) for lap in method.laps if not lap.tuck]
    pairs += [(after.first, after.then) for after in method.afters]
    _refuse(place, "layers", layers, pairs)
    _refuse(place, "steps", steps, [(step_of[first], step_of[then]) for first, then in pairs])
    _refuse(place, "steps", steps, [(first, step.code) for step in method.steps for first in step.after])


def _refuse(place: str, key: str, order: Mapping[str, int], pairs: Sequence[tuple[str, str]]) -> None:
    for first, then in pairs:
        if order[first] > order[then]:
            raise BadValue(
                problem=f"{place}: {key} has {then!r} before {first!r}, which must come first.",
                remedy=f"Move {first!r} before {then!r}, or correct the lap.",
                value=then,
            )


def _laps(method: Method, choices: Choices) -> Iterator[Lap]:
    return (lap for lap in method.laps if lap.when.holds(choices) and not lap.tuck)


def _afters(method: Method, choices: Choices) -> Iterator[After]:
    return (after for after in method.afters if after.when.holds(choices))


def _is_first(place: Mapping[str, int], early: str, late: str) -> bool:
    return early in place and late in place and place[early] < place[late]
