"""How good and how quick cut plans are: orders of strips, and the published sets where they are at hand."""

from __future__ import annotations

import json
import operator
import os
import statistics
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from django.conf import settings

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from config.benches.rivals import first_fit_cost, general_cost
from config.benches.strips import order
from materials.cutplan.plan import CutPlan
from materials.cutplan.problem import CutProblem, Piece, Roll
from materials.cutplan.solve import plan_cuts
from materials.cutplan.verify import verify

SECONDS = 10
HALF, EIGHTH = Fraction(1, 2), Fraction(1, 8)
# strips, the grid of their lengths, orders to try, seconds allowed
ORDERS = ((120, HALF, 10, 0.05), (1_200, HALF, 5, 0.5), (6_000, HALF, 3, 2.0), (6_000, EIGHTH, 3, 4.0))
# what every instance must be, or one roll above at most and half of them proven
MUST = ("falkenauer-u", "scholl-1", "scholl-2", "waescher")
HARD = ("falkenauer-triplets", "hard28", "scholl-3")


@dataclass(frozen=True, slots=True)
class Planned:
    """A problem, its verified plan and what that took."""

    problem: CutProblem
    plan: CutPlan
    spent: Spent

    @property
    def rolls(self) -> int:
        """Return how many rolls and offcuts are cut."""
        return sum(cut.times for cut in self.plan.cuts)

    @property
    def ratio(self) -> float:
        """Return the cost over its bound; 1 is proven to be the least."""
        return float(Fraction(self.plan.cost or 0) / (self.plan.bound or 1))

    @property
    def largest_left(self) -> float:
        """Return the largest leftover as a share of all that is left of the rolls and offcuts used."""
        lengths = {stock.name: stock.length for stock in self.problem.stock}
        used = sum(lengths[cut.roll] * cut.times for cut in self.plan.cuts)
        left = used - sum(piece.length * piece.count for piece in self.problem.pieces)
        return float(max(cut.left for cut in self.plan.cuts) / left) if left else 1.0

    @property
    def rolls_met(self) -> float:
        """Return how often a house and a roll or offcut meet, over the rolls that each house needs alone."""
        houses = {piece.name: piece.house for piece in self.problem.pieces}
        met = sum(cut.times * len({houses[name] for name in cut.pieces}) for cut in self.plan.cuts)
        lengths: dict[str, Fraction] = {}
        for piece in self.problem.pieces:
            lengths[piece.house] = lengths.get(piece.house, Fraction(0)) + piece.length * piece.count
        return met / sum(-(-length // self.problem.longest) for length in lengths.values())


def measure(*, small: bool) -> Iterator[Figure]:
    """Plan orders of strips, then the published sets; a general solver has as long as a plan may take."""
    for strips, grid, tries, seconds in ORDERS[:1] if small else ORDERS:
        plans = [_planned(order(strips, grid=grid, seed=seed)) for seed in range(1 if small else tries)]
        yield from _of_orders(f"{strips:,} strips on 1/{1 / grid} in", plans, seconds=seconds)
    yield from _beside(order(120, grid=HALF, seed=0), seconds=1 if small else SECONDS)
    for name in MUST[-1:] if small else (*MUST, *HARD):
        yield from _of_set(name, few=small)


def _of_orders(name: str, plans: Sequence[Planned], *, seconds: float) -> Iterator[Figure]:
    slowest = max((each.spent for each in plans), key=lambda each: each.cpu)
    yield Figure.of_time(f"{name}, slowest", slowest, seconds)
    yield Figure(f"{name}, cost over bound", max(each.ratio for each in plans), "x", 1)
    left = statistics.median(each.largest_left for each in plans)
    yield Figure(f"{name}, largest leftover", left, "of all", 0.97, at_least=True)
    houses = len({piece.house for each in plans for piece in each.problem.pieces})
    met = statistics.median(each.rolls_met for each in plans)
    yield Figure(f"{name}, rolls of a house", met, "x least", 1.2 if houses > 1 else None)
    patterns = sum(len(each.plan.cuts) for each in plans) / sum(each.rolls for each in plans)
    yield Figure(f"{name}, different cuts", patterns, "per roll")
    first_fits = [first_fit_cost(each.problem) for each in plans]
    ratios = [
        cost / float(each.plan.bound or 1) for cost, each in zip(first_fits, plans, strict=True) if cost
    ]
    yield Figure(f"{name}, first-fit-decreasing", max(ratios), "x bound")


def _beside(problem: CutProblem, *, seconds: float) -> Iterator[Figure]:
    bound = float(_planned(problem).plan.bound or 1)
    first_fit = first_fit_cost(problem) or bound
    found = general_cost(problem, seconds=seconds, at_most=first_fit)
    name = f"120 strips, general solver after {seconds:g} s"
    yield Figure(name, found / bound if found else 0.0, "x bound", note="" if found else "found no plan")


def _of_set(name: str, *, few: bool) -> Iterator[Figure]:
    path = Path(os.environ.get("LAPWISE_DATA", settings.ROOT.parent / "shared" / "data"))
    path = path / "cutting" / f"{name}.jsonl"
    if not path.is_file():
        yield Figure(f"{name}, proven", 0, "", note=f"there is no {path.name}")
        return
    instances = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    instances = instances[:1] if few else instances
    plans = [_planned(_rolls_of(each)) for each in instances]
    best = [each["best"] for each in instances]
    number, must = len(instances), name in MUST
    above = [int(each.plan.cost or 0) - known for each, known in zip(plans, best, strict=True)]
    proven = sum(each.ratio == 1 for each in plans)
    fitted = [first_fit_cost(each.problem) for each in plans]
    yield Figure(f"{name}, most above the known best", max(above), "rolls", 0 if must else 1)
    yield Figure(f"{name}, proven", proven, f"of {number}", number if must else number / 2, at_least=True)
    slowest = max((each.spent for each in plans), key=lambda each: each.cpu)
    yield Figure.of_time(f"{name}, slowest", slowest, SECONDS)
    yield Figure(f"{name}, known best by us", above.count(0), f"of {number}")
    yield Figure(f"{name}, known best by first-fit", sum(map(operator.eq, fitted, best)), f"of {number}")


def _rolls_of(instance: dict[str, Any]) -> CutProblem:
    return CutProblem(
        rolls=(Roll("roll", instance["roll"], 1),),
        pieces=tuple(Piece(str(length), length, count) for length, count in instance["pieces"]),
    )


def _planned(problem: CutProblem) -> Planned:
    """Plan within the seconds that one core has for it. Raises ValueError for a plan that does not hold."""
    plans: list[CutPlan] = []
    took = spent(lambda: plans.append(plan_cuts(problem, seconds=SECONDS, clock=time.process_time)))
    faults = verify(problem, plans[0])
    if faults:
        raise ValueError(faults[0])
    return Planned(problem, plans[0], took)
