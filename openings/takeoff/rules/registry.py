"""Which rules there are, in the order in which their lines are listed. Pure."""

from __future__ import annotations

from openings.takeoff.rules.beads import BackBead, FaceBead, HingeBead
from openings.takeoff.rules.fasteners import FinFasteners
from openings.takeoff.rules.inside import InsideFoam, RodAndBead
from openings.takeoff.rules.pieces import CornerPatch, DripCap, Shims
from openings.takeoff.rules.rule import Rule
from openings.takeoff.rules.strips import (
    FlapTape,
    HeadStrip,
    JambStrip,
    OverFinStrip,
    Pan,
    PanCorner,
    SillStrip,
)
from openings.takeoff.terms import Terms

RULES: tuple[Rule, ...] = (
    SillStrip(),
    Pan(),
    PanCorner(),
    JambStrip(),
    OverFinStrip(),
    HeadStrip(),
    FlapTape(),
    HingeBead(),
    BackBead(),
    FaceBead(),
    FinFasteners(),
    CornerPatch(),
    DripCap(),
    InsideFoam(),
    RodAndBead(),
    Shims(),
)


def rules_for(terms: Terms) -> tuple[Rule, ...]:
    """Return the rules that bring lines under `terms`, in listing order."""
    return tuple(rule for rule in RULES if rule.wanted(terms))
