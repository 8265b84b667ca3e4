"""The sequence engine against published scheduling sets with proven shortest plans.

`LAPWISE_DEEP=1` runs every instance of every set instead of the first few.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from crews.dayplan.case import read_case
from crews.dayplan.model import SearchLimits
from crews.dayplan.problem import DayProblem, Lag, Resource, Task
from crews.dayplan.solve import solve
from crews.dayplan.verify import verify

ROOT = Path(__file__).resolve().parents[2]
FOLDER = Path(os.environ.get("LAPWISE_DATA", ROOT.parent / "shared" / "data")) / "scheduling"
IS_DEEP = os.environ.get("LAPWISE_DEEP") == "1"
# Reached well within; a loaded machine may need longer, and no verdict hangs on the time.
LIMITS = SearchLimits(seconds=120, workers=1, seed=1)
SAMPLE = {
    "rcpsp-max-ubo10": 40,
    "rcpsp-max-ubo20": 12,
    "rcpsp-max-ubo50": 3,
    "rcpsp-max-j30": 12,
    "rcpsp-j30": 6,
}
# Three of the 40 take minutes to prove on one worker; their shortest plan is found at once.
SLOW_TO_PROVE = {"j3013_8", "j3045_2", "j309_2"}


def answer(problem):
    return solve(problem, limits=LIMITS, clock=lambda: 0.0)


# Sources: rcpsp-max-*: Kolisch, Schwindt, Sprecher, generator ProGen/max (minimum and maximum lags);
# rcpsp-j30: PSPLIB (Kolisch, Sprecher 1996). Best values as published, see data/README.md.
@pytest.mark.published
@pytest.mark.skipif(not FOLDER.is_dir(), reason=f"no published schedules in {FOLDER}")
@pytest.mark.parametrize("name", list(SAMPLE))
def test_shortest_plan_is_the_published_one(name):
    lines = (FOLDER / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()
    for line in lines if IS_DEEP else lines[: SAMPLE[name]]:
        published = json.loads(line)
        if published["name"] in SLOW_TO_PROVE and not IS_DEEP:
            continue
        problem = read_case(line).problem

        plan = answer(problem)

        assert plan.makespan == published["best"], published["name"]
        assert verify(problem, plan) == ()
        if published["name"] not in SLOW_TO_PROVE:
            assert plan.status == ("infeasible" if published["best"] is None else "optimal")


# Source: Fisher and Thompson 1963, the 6 x 6 job shop, from memory; shortest plan 55.
FT06 = [
    [(2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)],
    [(1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)],
    [(2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)],
    [(1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)],
    [(2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)],
    [(1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)],
]


def test_six_by_six_job_shop_ends_at_fifty_five():
    machines = tuple(Resource(f"machine {number}", 1) for number in range(6))
    tasks = tuple(
        Task(f"{job}-{step}", minutes, ((f"machine {machine}", 1),))
        for job, steps in enumerate(FT06)
        for step, (machine, minutes) in enumerate(steps)
    )
    lags = tuple(
        Lag(f"{job}-{step}", f"{job}-{step + 1}", minimum=0) for job in range(6) for step in range(5)
    )

    plan = answer(DayProblem(machines, tasks, lags))

    assert (plan.status, plan.makespan) == ("optimal", 55)
