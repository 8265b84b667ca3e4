"""What is installed is what the lock files say: exact versions with hashes, the same for both uses."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DECLARED = tomllib.loads((ROOT / "pyproject.toml").read_text())
MOST_DIRECT = 32
FILES = ("requirements.lock", "requirements-dev.lock")


def locked(name: str) -> dict[str, str]:
    """Return version by package, as a lock file says; a line without hashes is an error."""
    versions = {}
    for entry in re.split(r"\n(?=\S)", (ROOT / name).read_text().strip()):
        found = re.match(r"([a-z0-9._-]+)(?:\[[a-z,]+\])?==(\S+)", entry)
        assert found, entry[:60]
        assert "--hash=sha256:" in entry, found[1]
        versions[found[1]] = found[2]
    return versions


def direct(group: list[str]) -> set[str]:
    return {re.match(r"[A-Za-z0-9._-]+", line)[0].lower().replace("_", "-") for line in group}


@pytest.mark.parametrize("name", FILES)
def test_every_package_is_pinned_with_its_hashes(name):
    assert len(locked(name)) > 20


def test_serving_and_testing_use_the_same_versions():
    serving, testing = (locked(name) for name in FILES)

    assert {name: testing.get(name) for name in serving} == serving


def test_every_declared_dependency_is_locked():
    serving, testing = (locked(name) for name in FILES)

    assert direct(DECLARED["project"]["dependencies"]) - set(serving) == set()
    assert direct(DECLARED["dependency-groups"]["dev"]) - set(testing) == set()


def test_direct_dependencies_are_few_and_each_has_its_reason():
    text = (
        (ROOT / "pyproject.toml")
        .read_text()
        .partition("dependencies = [")[2]
        .partition("]\n\n[dependency")[0]
    )
    silent = [line.strip() for line in text.splitlines() if line.strip().startswith('"') and "#" not in line]

    assert silent == []
    assert len(DECLARED["project"]["dependencies"]) <= MOST_DIRECT
