"""Published cutting sets: the known best is reached and proven.

Source: BPPLIB (Delorme, Iori, Martello, Optimization Letters 2018), values as listed there.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from .building import planned, rolls_of

ROOT = Path(__file__).resolve().parents[3]
FOLDER = Path(os.environ.get("LAPWISE_DATA", ROOT.parent / "shared" / "data")) / "cutting"

pytestmark = [
    pytest.mark.published,
    pytest.mark.skipif(not FOLDER.is_dir(), reason=f"no published cutting sets in {FOLDER}"),
]


def instances(name, *, every=1):
    lines = (FOLDER / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()[::every]
    assert lines
    return [json.loads(line) for line in lines]


def plan_of(instance):
    return planned(rolls_of(instance["roll"], *instance["pieces"]))


@pytest.mark.parametrize("name", ["falkenauer-u", "scholl-1", "scholl-2", "waescher"])
def test_known_best_is_reached_and_proven(name):
    for instance in instances(name):
        plan = plan_of(instance)

        assert (plan.cost, plan.bound) == (instance["best"], instance["best"]), instance["name"]


# the whole of these sets is measured by `manage.py bench cutting`
@pytest.mark.parametrize(("name", "every"), [("falkenauer-triplets", 18), ("hard28", 9), ("scholl-3", 7)])
def test_hard_instances_are_reached_and_proven_too(name, every):
    for instance in instances(name, every=every):
        plan = plan_of(instance)

        assert (plan.cost, plan.bound) == (instance["best"], instance["best"]), instance["name"]
