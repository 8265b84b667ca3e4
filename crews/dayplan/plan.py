"""The answer to a day problem: when each task starts, how good that is, or why there is no plan. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType


class Status(StrEnum):
    """What was found: the shortest plan, a plan, that there is none, or nothing within the time."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    OUT_OF_TIME = "out of time"


@dataclass(frozen=True, slots=True)
class DayPlan:
    """Starts by task name, in the problem's order; `makespan` and `bound` are None where there is no plan.

    `bound` is a time that no plan ends before; `seconds` what the search took; `reason` says why there is no
    plan.
    """

    status: Status
    seconds: float
    makespan: int | None = None
    bound: int | None = None
    starts: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    reason: str = ""

    @property
    def gap(self) -> float | None:
        """Return (makespan - bound) / makespan, 0 for a plan that takes no time, None without a plan."""
        if self.makespan is None or self.bound is None:
            return None
        return (self.makespan - self.bound) / self.makespan if self.makespan else 0.0
