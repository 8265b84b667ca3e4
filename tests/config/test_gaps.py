"""`docs/gaps.md` names every row of the quality matrix, and no test that does not exist."""

from __future__ import annotations

import ast
import re
from functools import cache

import pytest

from tests.architecture.source import ROOT

GAPS = ROOT / "docs" / "gaps.md"
ROWS = tuple(
    f"{letter}{number}"
    for letter, last in {"R": 43, "U": 34, "I": 15, "A": 38}.items()
    for number in range(1, last + 1)
)
STATES = ("holds", "holds in short", "in part", "gap", "does not apply", "to be measured")
NAMED = re.compile(r"`(?P<file>tests/[\w/]+\.py)(?:::(?P<name>\w+))?`")
ROW = re.compile(r"^\| (?P<row>[RUIA]\d+) \| (?P<state>[^|]+) \| (?P<told>.+) \|$", re.MULTILINE)


@cache
def functions(file: str) -> frozenset[str]:
    """Return the names of the functions in a file, none where there is no such file."""
    path = ROOT / file
    if not path.is_file():
        return frozenset()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return frozenset(node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def missing_tests(text: str) -> list[str]:
    """Return each test that the text names and that does not exist."""
    return [
        match[0]
        for match in NAMED.finditer(text)
        if not functions(match["file"]) or (match["name"] and match["name"] not in functions(match["file"]))
    ]


def rows(text: str) -> dict[str, tuple[str, str]]:
    """Return state and words by the row's name."""
    return {match["row"]: (match["state"].strip(), match["told"]) for match in ROW.finditer(text)}


def test_every_row_of_the_matrix_is_there_once() -> None:
    text = GAPS.read_text(encoding="utf-8")

    assert tuple(rows(text)) == ROWS
    assert len(ROW.findall(text)) == len(ROWS)


def test_every_named_test_exists() -> None:
    assert missing_tests(GAPS.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("row", ROWS)
def test_each_row_has_a_state_and_what_stands_behind_it(row) -> None:
    state, told = rows(GAPS.read_text(encoding="utf-8"))[row]

    assert state in STATES
    if state.startswith("holds"):
        assert NAMED.search(told), "what holds names its test"
    else:
        assert len(told.split()) >= 3, "what does not hold says why or what is next"


def test_a_test_that_is_gone_would_be_seen() -> None:
    """The negative control."""
    here = "tests/config/test_gaps.py"

    assert missing_tests(f"`{here}::test_every_named_test_exists`") == []
    assert missing_tests(f"`{here}`") == []
    assert missing_tests(f"`{here}::test_nobody_wrote`") == [f"`{here}::test_nobody_wrote`"]
    assert missing_tests("`tests/config/test_nowhere.py`") == ["`tests/config/test_nowhere.py`"]
    assert rows("| R1 | gap | nothing yet done |\nR2 | gap | x |") == {"R1": ("gap", "nothing yet done")}
