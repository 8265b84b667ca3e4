"""What an install method is: its layers, how they lap, and what must come after what. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from openings.methods.choices import ALWAYS, Choices, Condition
from openings.methods.steps import Grade, HoldPoint, Lag, NightRule, Pace, Step
from projects.errors import BadValue
from projects.quantities.length import Length

JambStrips = Literal["over fins", "behind fins"]
Face = Literal["sill", "jamb", "head"]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place along the wall: `of` names a size of the specification, `past` is added to it."""

    past: Length
    of: str | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """Where a layer lies in one cut of the section drawing.

    `start` and `end` are measured along the wall from the edge of the rough opening: positive away from the
    opening, negative across it. `beyond`: it is not cut but seen behind the cut. `turns_in`: it goes round
    the edge on to the framing, over the whole depth of the wall.
    """

    face: Face
    start: Spot
    end: Spot
    beyond: bool = False
    turns_in: bool = False
    when: Condition = ALWAYS


@dataclass(frozen=True, slots=True)
class Layer:
    """One thing that is put on. `step` is the step that applies it; `hatch` and `runs` are for the drawing.

    `never_missing`: an order without it is still whole (a drip cap is on only where it is drawn).
    """

    name: str
    zone: str
    kind: str
    material: str
    step: str
    hatch: str
    grade: Grade
    source: str
    when: Condition = ALWAYS
    other_materials: tuple[tuple[Condition, str], ...] = ()
    runs: tuple[Run, ...] = ()
    never_missing: bool = False

    def material_for(self, choices: Choices) -> str:
        """Return the key of the material that `choices` bring for this layer."""
        for condition, material in self.other_materials:
            if condition.holds(choices):
                return material
        return self.material


@dataclass(frozen=True, slots=True)
class Lap:
    """At their joint `over` lies outboard of `under`, so it comes later; a `tuck` may come first."""

    over: str
    under: str
    why: str
    grade: Grade
    source: str
    when: Condition = ALWAYS
    tuck: bool = False


@dataclass(frozen=True, slots=True)
class After:
    """`then` comes after `first` for a reason that is no lap."""

    first: str
    then: str
    why: str
    grade: Grade
    source: str
    when: Condition = ALWAYS


@dataclass(frozen=True, slots=True)
class Blocker:
    """A thing that no method has and that closes the drainage where `when` holds."""

    name: str
    hatch: str
    why: str
    grade: Grade
    source: str
    when: Condition = ALWAYS
    runs: tuple[Run, ...] = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """What the app says where `when` holds: who has to stand behind a choice."""

    text: str
    grade: Grade
    source: str
    when: Condition = ALWAYS


@dataclass(frozen=True, slots=True)
class Method:
    """One way of making an opening watertight; everything about it comes from its file.

    `layers` and `steps` are in an order in which they may be done. `jamb_strips` says whether the jamb strips
    go over the side fins after the unit or behind them before it; `wrb_before` whether the WRB is on before
    the window, so that it is cut and its head flap taped.
    """

    code: str
    label: str
    jamb_strips: JambStrips
    wrb_before: bool
    over_fin_default: str
    over_fin_allowed: tuple[str, ...]
    over_fin_reason: str
    grade: Grade
    source: str
    layers: tuple[Layer, ...]
    laps: tuple[Lap, ...]
    afters: tuple[After, ...]
    steps: tuple[Step, ...]
    lags: tuple[Lag, ...]
    hold_points: tuple[HoldPoint, ...]
    night_rules: tuple[NightRule, ...]
    blockers: tuple[Blocker, ...]
    cautions: tuple[Caution, ...]
    pace: Pace

    def choices(
        self,
        *,
        over_fin: str | None = None,
        pan: str = "membrane",
        head_strip: bool = True,
        fin: str = "fixed",
        corners: str = "welded",
        drip_cap: bool = False,
        air_seal: str = "foam",
    ) -> Choices:
        """Return the choices for an opening; `over_fin` None is the method's own detail.

        Raises BadValue where a value is unknown or the method cannot have that over-fin detail.
        """
        chosen = Choices(
            over_fin=self.over_fin_default if over_fin is None else over_fin,
            pan=pan,
            head_strip=head_strip,
            fin=fin,
            corners=corners,
            drip_cap=drip_cap,
            air_seal=air_seal,
        )
        self.refuse_over_fin(chosen.over_fin)
        return chosen

    def refuse_over_fin(self, over_fin: str) -> None:
        """Raise BadValue where the method cannot have `over_fin`."""
        if over_fin not in self.over_fin_allowed:
            raise BadValue(
                problem=f"Method {self.code} can't have over fin {over_fin}: {self.over_fin_reason}.",
                remedy=f"Leave it out, or use {' or '.join(self.over_fin_allowed)}.",
                value=over_fin,
            )

    def layers_for(self, choices: Choices) -> tuple[Layer, ...]:
        """Return the layers that `choices` bring, in the method's order of application."""
        return tuple(layer for layer in self.layers if layer.when.holds(choices))

    def steps_for(self, choices: Choices) -> tuple[Step, ...]:
        """Return the steps that `choices` bring, in the method's order of work."""
        return tuple(step for step in self.steps if step.when.holds(choices))

    def layer(self, name: str) -> Layer:
        """Return the layer called `name`. Raises BadValue where the method has none."""
        for layer in self.layers:
            if layer.name == name:
                return layer
        raise BadValue(
            problem=f"Method {self.code} has no layer {name!r}.",
            remedy=f"Its layers are: {', '.join(layer.name for layer in self.layers)}.",
            value=name,
        )
