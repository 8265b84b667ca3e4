"""What others make of a cut problem: first-fit-decreasing, and a general solver on a plain model."""

from __future__ import annotations

import operator
from typing import Any

from materials.cutplan.columns import cost_of
from materials.cutplan.problem import CutProblem
from materials.cutplan.starts import first_fits
from materials.cutplan.whole import in_whole_numbers


def first_fit_cost(problem: CutProblem) -> float | None:
    """Return the cost of first-fit-decreasing on its best roll, others downsized; None: nothing fits."""
    whole = in_whole_numbers(problem).merged()
    costs = [cost_of(whole, layouts) for layouts in first_fits(whole)]
    return min(costs) / whole.cost_fineness if costs else None


def general_cost(problem: CutProblem, *, seconds: float, at_most: float) -> float | None:
    """Return the cost that a general solver finds: each roll taken or not, how many of each piece in it.

    There are as many rolls of each kind as could be bought for `at_most`. None: it found nothing.
    """
    from ortools.linear_solver import pywraplp

    whole = in_whole_numbers(problem).merged()
    solver: Any = pywraplp.Solver.CreateSolver("SCIP")
    solver.SetTimeLimit(int(seconds * 1000))
    goal = solver.Objective()
    cut: list[list[Any]] = []
    for stock in whole.stocks:
        most = 1 if not stock.cost else int(at_most * whole.cost_fineness) // stock.cost
        for _ in range(most):
            taken = solver.BoolVar("")
            goal.SetCoefficient(taken, stock.cost)
            numbers = [solver.IntVar(0, count, "") for count in whole.counts]
            solver.Add(sum(map(operator.mul, numbers, whole.sizes)) <= stock.room * taken)
            cut.append(numbers)
    for index, count in enumerate(whole.counts):
        solver.Add(sum(numbers[index] for numbers in cut) == count)
    status = solver.Solve()
    found = status in (solver.OPTIMAL, solver.FEASIBLE)
    return goal.Value() / whole.cost_fineness if found else None
