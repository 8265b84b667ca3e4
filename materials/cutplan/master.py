"""The linear program over the columns so far: the one place where a float is, and none gets out. Pure.

What it answers is advice: shares to round, and whole weights with which others prove a bound exactly.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from materials.cutplan.columns import Column, Rest
from materials.cutplan.whole import WholeProblem

WHOLE = 1_000_000
"""A share of this is one whole roll."""

WEIGHT = 1 << 40
"""A piece of this weight is worth the dearest roll."""


@dataclass(frozen=True, slots=True)
class Advice:
    """Whole weights by size; `rents`, what one more of each stock would be worth, by stock, at least 0.

    `value` is the least cost over these columns, in millionths of a cost unit.
    """

    weights: tuple[int, ...]
    rents: tuple[int, ...]
    value: int


class Unsolved(ArithmeticError):
    """The solver gave up on a linear program."""


class Master:
    """Columns that cover the rest, each piece at least as often as wanted; `exactly`: no more either.

    A piece may also be left out at the cost of the dearest roll, so that there always is an answer.
    """

    def __init__(self, problem: WholeProblem, rest: Rest, *, exactly: bool = False) -> None:
        from ortools.linear_solver import pywraplp

        self.problem = problem
        self.exactly = exactly
        self.solver: Any = pywraplp.Solver.CreateSolver("GLOP")
        self.unit = unit_of(problem)
        self.goal = self.solver.Objective()
        self.columns: dict[Column, Any] = {}
        self.rows = [
            self.solver.RowConstraint(count, count if exactly else self.solver.infinity(), "")
            for count in rest.counts
        ]
        self.limits = [
            None if left is None else self.solver.RowConstraint(0, left, "") for left in rest.available
        ]
        for row in self.rows:
            self.goal.SetCoefficient(left_out := self._variable(), 1)
            row.SetCoefficient(left_out, 1)

    def add(self, columns: Iterable[Column]) -> int:
        """Take in columns and return how many of them are new."""
        before = len(self.columns)
        for column in columns:
            if column not in self.columns:
                self.columns[column] = self._variable()
                self._fill_in(column)
        return len(self.columns) - before

    def solve(self) -> Advice:
        """Return what the best mix of the columns says. Raises Unsolved where the solver gives up."""
        status = self.solver.Solve()
        if status != self.solver.OPTIMAL:
            raise Unsolved(f"the linear program was left with status {status}")
        return Advice(
            weights=tuple(self._whole_weight(row.dual_value()) for row in self.rows),
            rents=tuple(0 if row is None else max(0, int(-row.dual_value() * WEIGHT)) for row in self.limits),
            value=round(self.goal.Value() * WHOLE) * self.unit,
        )

    def shares(self) -> dict[Column, int]:
        """Return how often the last answer cuts each column, in millionths, none below 1."""
        rounded = ((column, round(it.solution_value() * WHOLE)) for column, it in self.columns.items())
        return {column: share for column, share in rounded if share > 0}

    def _whole_weight(self, value: Any) -> int:
        """Return a dual value as a weight; below 0 only where covering more than is wanted is forbidden."""
        weight = int(value * WEIGHT)
        return weight if self.exactly else max(0, weight)

    def _variable(self) -> Any:
        return self.solver.NumVar(0, self.solver.infinity(), "")

    def _fill_in(self, column: Column) -> None:
        variable = self.columns[column]
        self.goal.SetCoefficient(variable, self.problem.stocks[column.stock].cost / self.unit)
        for index, count in column.pattern:
            self.rows[index].SetCoefficient(variable, count)
        limit = self.limits[column.stock]
        if limit is not None:
            limit.SetCoefficient(variable, 1)


def unit_of(problem: WholeProblem) -> int:
    """Return the cost of the dearest roll, at least 1: what the program counts costs in."""
    return max(1, *(stock.cost for stock in problem.stocks))
