"""No float arithmetic in the takeoff: whole numbers and fractions, rounded once in named places."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import openings.takeoff.compute

FOLDER = Path(openings.takeoff.compute.__file__).parent
# Functions that turn an exact value into a decimal for JSON, at the very edge.
FOR_JSON = {"in_fluid_ounces", "as_decimal"}


def float_arithmetic(tree: ast.AST) -> Iterator[str]:
    """Yield each float literal, true division, float() call or math function outside the named functions."""
    named = {
        id(inner)
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef) and function.name in FOR_JSON
        for inner in ast.walk(function)
    }
    for node in ast.walk(tree):
        if id(node) in named:
            continue
        if isinstance(node, ast.Constant) and isinstance(node.value, float):
            yield f"line {node.lineno}: {node.value}"
        if isinstance(node, ast.BinOp | ast.AugAssign) and isinstance(node.op, ast.Div):
            yield f"line {node.lineno}: true division"
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "float":
            yield f"line {node.lineno}: float()"
        if isinstance(node, ast.ImportFrom) and node.module == "math":
            names = {alias.name for alias in node.names} - {"isqrt"}
            if names:
                yield f"line {node.lineno}: math {names}"
        if isinstance(node, ast.Import) and any(alias.name == "math" for alias in node.names):
            yield f"line {node.lineno}: math"


def test_takeoff_reckons_without_floats() -> None:
    found = {
        f"{path.relative_to(FOLDER)}: {place}"
        for path in FOLDER.rglob("*.py")
        for place in float_arithmetic(ast.parse(path.read_text(encoding="utf-8")))
    }

    assert found == set()


def test_float_arithmetic_would_be_found() -> None:
    planted = "from math import pi\nimport math\nx = 0.5\ny = x / 2\nx /= 2\nz = float('1')\n"

    assert len(list(float_arithmetic(ast.parse(planted)))) == 6
