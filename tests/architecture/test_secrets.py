"""R28: no secret in the tree, none in any commit."""

from __future__ import annotations

import math
import re
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator

import pytest

from tests.architecture.source import ROOT

SHAPES = re.compile(
    "|".join(
        (
            r"-----BEGIN [A-Z ]*PRIVATE KEY",
            r"\b(?:AKIA|ASIA)[0-9A-Z]{16}\b",
            r"\bgh[pousr]_[0-9A-Za-z]{36}",
            r"\bgithub_pat_[0-9A-Za-z_]{40}",
            r"\bglpat-[0-9A-Za-z_-]{20}",
            r"\bxox[abprs]-[0-9A-Za-z-]{10}",
            r"\bAIza[0-9A-Za-z_-]{35}",
            r"\b[rs]k_live_[0-9A-Za-z]{20}",
            r"\bnpm_[0-9A-Za-z]{36}",
            r"\bpypi-[0-9A-Za-z_-]{50}",
            r"\beyJ[0-9A-Za-z_-]{20,}\.eyJ[0-9A-Za-z_-]{20,}\.",
            r"\bdjango-insecure-[^\"'\s+]{30}",
        )
    )
)
NAMED = re.compile(
    r"(?i)\b[a-z_]*(?:secret|passw(?:or)?d|token|api_?key|credential)[a-z_]*[\"']?\s*[:=]\s*"
    r"[\"'](?P<value>[^\"'\s{}$<>]{12,})[\"']"
)
IN_ADDRESS = re.compile(r"[a-z+]+://[^/\s:@\"']+:(?P<value>[^/\s:@\"'{}$<>]{6,})@")
# Words that stand for a secret in examples and tests, each of them no one's.
EXAMPLES = {"secret-word", "password", "lapwise"}
RANDOM_BITS = 3.5  # per character: prose and names have less, keys have more


def secrets(lines: Iterable[tuple[str, str]]) -> list[str]:
    """Return where a line has the shape of a key, or gives a secret a value of random letters."""
    return [place for place, line in lines if SHAPES.search(line) or _valued(line)]


def _valued(line: str) -> bool:
    found = [match["value"] for pattern in (NAMED, IN_ADDRESS) for match in pattern.finditer(line)]
    return any(value not in EXAMPLES and _bits(value) > RANDOM_BITS for value in found)


def _bits(text: str) -> float:
    counts = Counter(text).values()
    return -sum(count / len(text) * math.log2(count / len(text)) for count in counts)


def git(*arguments: str) -> Iterator[str]:
    command = ["git", "-C", str(ROOT), *arguments]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, errors="replace") as running:
        assert running.stdout is not None
        yield from running.stdout
    assert running.returncode == 0


@pytest.fixture
def repository() -> None:
    if not (ROOT / ".git").exists():
        pytest.skip("this is no clone: there is no history to read")


def added() -> Iterator[tuple[str, str]]:
    """Yield commit, file and text of each line that any commit added."""
    commit = file = ""
    for line in git(
        "log", "--all", "--patch", "--unified=0", "--no-color", "--no-ext-diff", "--format=commit %h"
    ):
        if line.startswith("commit "):
            commit = line.split()[1]
        elif line.startswith("+++ "):
            file = line[6:].strip()
        elif line.startswith("+"):
            yield f"{commit} {file}", line[1:]


def test_no_commit_ever_added_a_secret(repository) -> None:
    assert secrets(added()) == []


def test_no_file_of_the_tree_holds_a_secret(repository) -> None:
    lines = (
        (f"{name}:{number}", line)
        for name in (name.strip() for name in git("ls-files"))
        if (ROOT / name).is_file()
        for number, line in enumerate((ROOT / name).read_text("utf-8", "replace").splitlines(), 1)
    )

    assert secrets(lines) == []


def test_files_that_hold_secrets_are_not_taken_in(repository) -> None:
    told = subprocess.run(
        ["git", "-C", str(ROOT), "check-ignore", "var/secret-key", ".env", "var/lapwise.sqlite3"],
        capture_output=True,
        text=True,
        check=False,
    )

    assert told.stdout.split() == ["var/secret-key", ".env", "var/lapwise.sqlite3"]
    assert [
        name for name in git("ls-files") if name.startswith("var/") or name.strip().endswith(".env")
    ] == []


@pytest.mark.parametrize(
    "parts",
    [
        ("-----BEGIN RSA PRIVATE", " KEY-----"),
        ("AKIA", "IOSFODNN7EXAMPLE"),
        ("ghp_", "a1B2c3D4e5F6g7H8i9J0k1L2m3N4o5P6q7R8"),
        ("SECRET_KEY = ", "'kQ7vX2mZ9pL4sT8wB1nC6rY3hJ5gF0dA'"),
        ('"api_key": ', '"kQ7vX2mZ9pL4sT8wB1nC6rY3"'),
        ("postgres://lapwise:", "kQ7vX2mZ9pL4sT8w@db.example/lapwise"),
    ],
    ids=lambda parts: parts[0],
)
def test_a_planted_secret_would_be_seen(parts) -> None:
    """The negative control; written in parts, so that this file does not find itself."""
    assert secrets([("here", "".join(parts))]) == ["here"]


@pytest.mark.parametrize(
    "line",
    ["password = form.cleaned_data['password']", "SECRET_KEY: ${SECRET_KEY:?give one}", "PASSWORD = ''"],
)
def test_a_name_without_a_value_is_no_secret(line) -> None:
    assert secrets([("here", line)]) == []
