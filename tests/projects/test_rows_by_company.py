"""R20: rows that belong to a company are reached through it; whoever reaches them otherwise says why."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from projects import triggers

ROOT = Path(__file__).parent.parent.parent
APPS = ("projects", "openings", "materials", "crews", "config")
WITH_COMPANY = {"of", "create", "bulk_create", "bulk_update"}
REASONS = {
    "projects/jobs.py": "a worker serves every company and goes by the job's own number",
    "config/health.py": "the machines ask about all work at once",
    "projects/selectors.py": "a person's own places in companies",
    "materials/selectors/orders.py": "prefetched below orders that were reached through the company",
    "crews/selectors/crews.py": "prefetched below crews that were reached through the company",
    "crews/selectors/week.py": "subqueries below houses that were reached through the company",
}


def reached_otherwise():
    """Return file, line and statement of each query on an owned table whose statement names no company."""
    owned = {model.__name__ for model in triggers.owned_models()}
    found = []
    for app in APPS:
        for path in sorted((ROOT / app).rglob("*.py")):
            if {"migrations", "bin"} & set(path.parts):
                continue
            for statement in statements(ast.parse(path.read_text())):
                text = re.sub(r"select_related\([^)]*\)", "", ast.unparse(statement))
                if asks(statement, owned) and "company" not in text:
                    found.append((str(path.relative_to(ROOT)), statement.lineno, text))
    return found


def statements(tree):
    """Return every simple statement, and of the others the part before the colon."""
    for node in ast.walk(tree):
        if isinstance(node, ast.stmt) and not hasattr(node, "body"):
            yield node
        elif isinstance(node, ast.If | ast.While):
            yield node.test
        elif isinstance(node, ast.For):
            yield node.iter


def asks(statement, owned):
    """Return whether it has `Owned.objects.something`, with something that names no company itself."""
    for node in ast.walk(statement):
        match node:
            case ast.Attribute(value=ast.Attribute(value=ast.Name(id=model), attr="objects"), attr=method):
                if model in owned and method not in WITH_COMPANY:
                    return True
    return False


def test_owned_rows_are_reached_through_their_company():
    unexplained = [place for place in reached_otherwise() if place[0] not in REASONS]

    assert unexplained == []


def test_every_reason_is_still_needed():
    assert set(REASONS) == {file for file, _, _ in reached_otherwise()}
