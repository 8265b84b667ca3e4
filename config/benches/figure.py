"""One measured figure, what is required of it, and whether it is met."""

from __future__ import annotations

from dataclasses import dataclass

from config.benches.machine import Spent


@dataclass(frozen=True, slots=True)
class Figure:
    """What was measured of one thing, in `unit`. Nothing is judged where `required` is None: it is only told.

    `at_least`: more is better; else `required` is the most there may be. `timed`: it depends on how fast the
    machine is, as bytes and queries do not.
    """

    name: str
    measured: float
    unit: str
    required: float | None = None
    at_least: bool = False
    timed: bool = True
    note: str = ""

    @classmethod
    def of_time(cls, name: str, spent: Spent, required: float | None = None) -> Figure:
        """Return the figure of a piece of work, judged by the core's seconds."""
        return cls(name, spent.cpu, "s", required, note=f"{spent.wall:.3g} s by the clock")

    def limit(self, *, ease: float, slowness: float) -> float | None:
        """Return what is required on a machine that takes `slowness` times the usual, made easier by `ease`.

        An ease of 0 asks for the impossible: no time at all, endless speed.
        """
        if self.required is None:
            return None
        allowance = ease * slowness if self.timed else ease
        if not self.at_least:
            return self.required * allowance
        return self.required / allowance if allowance else float("inf")

    def is_met(self, *, ease: float, slowness: float) -> bool:
        """Return whether the requirement is met; True where there is none."""
        limit = self.limit(ease=ease, slowness=slowness)
        if limit is None:
            return True
        return self.measured >= limit if self.at_least else self.measured <= limit
