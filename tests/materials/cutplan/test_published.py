"""Published cutting sets: every plan holds and its bound and cost lie on either side of the known best.

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


@pytest.mark.parametrize("name", ["falkenauer-u", "scholl-1", "scholl-2", "waescher"])
def test_known_best_lies_between_bound_and_cost(name):
    for line in (FOLDER / f"{name}.jsonl").read_text(encoding="utf-8").splitlines():
        instance = json.loads(line)

        plan = planned(rolls_of(instance["roll"], *instance["pieces"]))

        assert plan.bound <= instance["best"] <= plan.cost, instance["name"]
