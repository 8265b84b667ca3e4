"""The project's own source as syntax trees, for the rules that read code instead of running it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
APPS = ("projects", "openings", "materials", "crews", "config")
CORE = (
    "projects/quantities",
    "openings/methods",
    "openings/takeoff",
    "openings/schedule",
    "openings/drawing",
    "materials/catalogue",
    "materials/compatibility",
    "materials/cutplan",
    "materials/exchange",
    "materials/ordering",
    "crews/cure",
    "crews/dayplan",
    "crews/weekplan",
    "crews/costing",
)
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Module:
    """One file of Python: where it lies, its text, its tree."""

    path: str
    text: str

    @property
    def tree(self) -> ast.Module:
        return _parsed(self.text)

    @property
    def is_core(self) -> bool:
        return any(self.path.startswith(f"{folder}/") for folder in CORE)

    def functions(self) -> Iterator[Function]:
        for node in ast.walk(self.tree):
            if isinstance(node, Function):
                yield node

    def line(self, node: ast.AST) -> str:
        return f"{self.path}:{node.lineno}"


@cache
def _parsed(text: str) -> ast.Module:
    return ast.parse(text)


@cache
def modules(*tops: str) -> tuple[Module, ...]:
    """Return the Python files below `tops`, migrations excepted."""
    found = []
    for top in tops:
        for path in sorted((ROOT / top).rglob("*.py")):
            if "migrations" not in path.parts:
                found.append(Module(path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")))
    return tuple(found)


def ours() -> tuple[Module, ...]:
    """Return the application's files."""
    return modules(*APPS)


def core() -> tuple[Module, ...]:
    """Return the pure core's files."""
    return tuple(module for module in ours() if module.is_core)


def dotted(node: ast.AST) -> str:
    """Return `a.b.c` for a chain of names and calls, as far as it can be read."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        return f"{dotted(node.value)}.{node.attr}"
    if isinstance(node, ast.Call):
        return f"{dotted(node.func)}()"
    if isinstance(node, ast.Subscript):
        return f"{dotted(node.value)}[]"
    return ""
