"""The answer to a cut problem: which roll is cut into what, its cost and how far that is proven. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from materials.cutplan.problem import Number
from projects.problems import Problem


class Status(StrEnum):
    """How far an answer is proven."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    OUT_OF_TIME = "out of time"


@dataclass(frozen=True, slots=True)
class Cut:
    """One roll or offcut and what is cut from it, `times` over; `left` is what remains of each."""

    roll: str
    times: int
    pieces: Mapping[str, int]
    left: Number


@dataclass(frozen=True, slots=True)
class Splice:
    """One piece that is cut in two: the names under which its parts are cut, and their lengths."""

    piece: str
    parts: Mapping[str, Number]


@dataclass(frozen=True, slots=True)
class CutPlan:
    """The plan. `bound` is a proven least cost; both are None where no plan was found.

    `weights`, by a piece's length, are what proves the bound again; None: all cases were gone through.
    """

    status: Status
    seconds: float
    cost: Number | None = None
    bound: Number | None = None
    cuts: tuple[Cut, ...] = ()
    splices: tuple[Splice, ...] = ()
    weights: Mapping[Number, int] | None = None
    problems: tuple[Problem, ...] = ()

    @property
    def gap(self) -> Fraction | None:
        """Return (cost - bound) / cost, 0 at zero cost, None where there is no plan."""
        if self.cost is None or self.bound is None:
            return None
        return Fraction(self.cost - self.bound) / self.cost if self.cost else Fraction(0)
