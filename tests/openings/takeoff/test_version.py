"""Every number can be made again: the same inputs under the same RULES_VERSION, the same answer for ever."""

from __future__ import annotations

import hashlib
import json
from itertools import product
from typing import Any

from openings.methods.load import load_methods
from openings.takeoff.answer import opening_as_json
from openings.takeoff.compute import RULES_VERSION, take_off_house
from openings.takeoff.opening import GlassPanes, OpeningInput
from projects.quantities.length import Length
from tests.openings.takeoff.cases import opening, spec

# What the numbers of `inputs()` hash to, per version of the rules. A stored result keeps its version, so an
# entry never changes. Where this fails after a change of rules or method files: raise RULES_VERSION and add
# an entry. It says only that nothing moved; that the numbers are right is for the worked goldens.
FROZEN = {"1": "b28b593bc6ad85700c0d8f13c89b305566b0e2e251fff813b9c87812f3543e12"}
SPECIFICATIONS = (
    {},
    {"strip_width": "6", "jamb_wrap": "1", "head_extra": "1", "drip_cap": "yes", "air_seal": "rod and bead"},
    {"head_strip": "no", "bead_offset": "1 1/8", "weep_gap": "2", "foam_thickness": "1", "shims": "no"},
)


def inputs() -> list[OpeningInput]:
    """Return a house that has every choice in it."""
    rows: list[OpeningInput] = []
    for method, over_fin, pan, fin, corners in product(
        load_methods(), (None, "none", "membrane", "sealed"), ("membrane", "stretch", "rigid", "none"),
        ("fixed", "folding"), ("welded", "open"),
    ):  # fmt: skip
        size = len(rows) % 7
        allowed = load_methods()[method].over_fin_allowed
        if over_fin in (None, *allowed):
            rows.append(
                opening(
                    width=8 + 13 * size,
                    height=20 + 9 * size,
                    mark=f"W{len(rows)}",
                    method=method,
                    over_fin=over_fin,
                    pan=pan,
                    fin=fin,
                    corners=corners,
                    mulls=size % 3,
                    glass=GlassPanes(2, Length.mm(3 + size)),
                    head_fasteners=(None, "no", "loose")[size % 3],
                    fastener_max=Length.inches(8) if size == 4 else None,
                )
            )
    return rows


def answers() -> str:
    """Return the hash of all numbers, words left out."""
    digest = hashlib.sha256()
    for texts in SPECIFICATIONS:
        takeoff = take_off_house(inputs(), spec(**texts), load_methods())  # reckoned afresh
        assert not takeoff.problems
        told = [opening_as_json(each) for each in takeoff.openings]
        digest.update(json.dumps([numbers_of(each) for each in told], sort_keys=True).encode())
    return digest.hexdigest()


def numbers_of(answer: dict[str, Any]) -> dict[str, Any]:
    """Return an opening's answer without notices, formulas and sources."""
    words = {"notices", "basis", "source"}
    lines = [{key: value for key, value in line.items() if key not in words} for line in answer["lines"]]
    return {**{key: value for key, value in answer.items() if key not in words}, "lines": lines}


def test_answers_of_a_version_never_change() -> None:
    assert answers() == FROZEN[RULES_VERSION]


def test_changed_rule_would_be_seen(monkeypatch) -> None:
    from openings.takeoff.rules import pieces

    monkeypatch.setattr(pieces, "PATCHES_PER_MULL", 3)

    assert answers() != FROZEN[RULES_VERSION]
