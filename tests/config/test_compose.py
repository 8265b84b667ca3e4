"""docker-compose.yml is valid, watches what it starts, and names only commands and files that exist."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

ROOT = Path(__file__).resolve().parents[2]
COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
OURS = ("migrate", "web", "worker", "beat")
DOCKERFILE = (ROOT / "Dockerfile").read_text()


def problems(document: Any) -> list[str]:
    schema = json.loads((ROOT / "tests/config/compose/compose-spec.json").read_text())
    return [
        f"{error.json_path}: {error.message}" for error in Draft202012Validator(schema).iter_errors(document)
    ]


def test_compose_file_follows_the_published_schema():
    assert problems(COMPOSE) == []


@pytest.mark.parametrize(
    "change",
    [
        {"services": {"web": {"commands": "gunicorn"}}},
        {"services": []},
        {"services": {"web": {"ports": "x"}}},
    ],
)
def test_schema_sees_a_broken_file(change):
    assert problems({**COMPOSE, **change}) != []


def test_web_worker_beat_and_both_servers_are_there_and_watched():
    watched = {
        name for name, service in COMPOSE["services"].items() if "test" in service.get("healthcheck", {})
    }

    assert watched == {"web", "worker", "beat", "postgres", "redis"}


@pytest.mark.parametrize("name", OURS)
def test_program_waits_for_healthy_servers(name):
    waits = COMPOSE["services"][name]["depends_on"]

    assert waits["postgres"]["condition"] == waits["redis"]["condition"] == "service_healthy"
    if name != "migrate":
        assert waits["migrate"]["condition"] == "service_completed_successfully"


@pytest.mark.parametrize("name", OURS)
def test_commands_and_files_that_are_named_exist(name):
    service = COMPOSE["services"][name]
    commands = [service["command"], service["healthcheck"].get("test", ["CMD"])[1:]]

    for command in filter(None, commands):
        assert (ROOT / ".venv/bin" / command[0]).exists() or shutil.which(command[0]), command
        for word in command[1:]:
            if word.endswith(".py"):
                assert (ROOT / word).is_file(), word


def test_files_that_the_image_copies_exist_and_are_let_through():
    copied = [
        line.split()[1:-1]
        for line in DOCKERFILE.splitlines()
        if line.startswith("COPY") and "--from" not in line
    ]
    let_through = {
        line[1:] for line in (ROOT / ".dockerignore").read_text().splitlines() if line.startswith("!")
    }

    named = {word for words in copied for word in words}
    assert all((ROOT / word).exists() for word in named)
    assert named == let_through


def test_image_runs_as_nobody_special_and_is_watched():
    user = re.findall(r"^USER (\w+)$", DOCKERFILE, re.MULTILINE)

    assert user == ["lapwise"]
    assert "HEALTHCHECK" in DOCKERFILE
    assert "python:3.11-slim-bookworm" in DOCKERFILE


def test_no_secret_stands_in_the_files():
    environment = COMPOSE["services"]["web"]["environment"]

    assert environment["SECRET_KEY"].startswith("${SECRET_KEY:?")
    assert COMPOSE["services"]["postgres"]["environment"]["POSTGRES_PASSWORD"].startswith(
        "${POSTGRES_PASSWORD:?"
    )
