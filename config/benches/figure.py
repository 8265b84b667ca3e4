"""One measured figure, what is required of it, and whether it is met."""

from __future__ import annotations

from dataclasses import dataclass

from config.benches.machine import Spent


@dataclass(frozen=True, slots=True)
class Figure:
    """What was measured of one thing, in `unit`. Nothing is judged where `required` is None: it is only told.

    `at_least`: more is better; else `required` is the most there may be.
    """

    name: str
    measured: float
    unit: str
    required: float | None = None
    at_least: bool = False
    note: str = ""

    @classmethod
    def of_time(cls, name: str, spent: Spent, required: float | None = None) -> Figure:
        """Return the figure of a piece of work, judged by the core's seconds."""
        return cls(name, spent.cpu, "s", required, note=f"{spent.wall:.3g} s by the clock")

    def is_met(self, *, ease: float = 1) -> bool:
        """Return whether the requirement, made easier by `ease`, is met; True where there is none.

        An ease of 0 asks for the impossible: no time at all, endless speed.
        """
        if self.required is None:
            return True
        if self.at_least:
            return self.measured * ease >= self.required
        return self.measured <= self.required * ease
