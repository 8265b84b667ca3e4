"""No key, password or token lies in the tree or in what the tree once was."""

from __future__ import annotations

import re
import subprocess

import pytest

from tests.architecture.source import ROOT

LOOKS_SECRET = re.compile(
    r"-----BEGIN [A-Z ]*PRIVATE KEY-----"
    r"|\bAKIA[0-9A-Z]{16}\b"
    r"|\bgh[pousr]_[A-Za-z0-9]{36}\b"
    r"|\bxox[abprs]-[A-Za-z0-9-]{10,}"
    r"|\beyJ[A-Za-z0-9_-]{20,}\.[A-Za-z0-9_-]{20,}\.[A-Za-z0-9_-]{10,}"
    r"|://[^/\s:@<>{}$'\"]+:(?!password@|word@|secret-word@)[^/\s:@<>{}$'\"]{8,}@"
)
# our own words for what is looked for
ITSELF = "tests/architecture/test_secrets.py"


def git(*arguments: str) -> str:
    command = ["git", "-C", str(ROOT), *arguments]
    told = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
    if told.returncode:
        pytest.skip("this is no git checkout")
    return told.stdout


def test_no_tracked_file_holds_a_secret():
    held = []
    for name in git("ls-files").splitlines():
        path = ROOT / name
        if name != ITSELF and path.is_file() and LOOKS_SECRET.search(path.read_text(errors="replace")):
            held.append(name)

    assert held == []


def test_no_commit_ever_held_a_secret():
    held = []
    for line in git("log", "-p", "--no-color", "--unified=0").splitlines():
        if line.startswith("+") and LOOKS_SECRET.search(line) and "LOOKS" not in line and 'r"' not in line:
            held.append(line[:80])

    assert held == []


def test_what_a_running_installation_makes_is_not_tracked():
    ignored = (ROOT / ".gitignore").read_text().splitlines()

    assert "var/" in ignored
    assert [
        name for name in git("ls-files").splitlines() if name.startswith("var/") or name.endswith(".env")
    ] == []


@pytest.mark.parametrize(
    "line",
    [
        "-----BEGIN RSA " + "PRIVATE KEY-----",
        "key = AKIA" + "ABCDEFGHIJKLMNOP",
        "token: ghp_" + "a" * 36,
        "postgres://lapwise:" + "hunter2hunter2@db.example/lapwise",
    ],
)
def test_the_search_sees_what_it_looks_for(line):
    assert LOOKS_SECRET.search(line)
