"""Lengths, volumes and money are exact: a float exists only inside a named function that rounds once."""

from __future__ import annotations

import ast

from tests.architecture.source import Function, Module, core, dotted, ours

# Folders whose subject is no fraction: lines on a screen, and a law of physics.
MEASURED = ("openings/drawing/", "crews/cure/")
# By module: the functions that round once, print, or measure something that is no part of a result.
ROUND_ONCE: dict[str, set[str]] = {
    "projects/quantities/volume.py": {"circle", "in_cubic_inches"},  # the section area of a bead
    "openings/schedule/cells.py": {"number_text"},  # a workbook holds floats; they become text here
    "openings/schedule/textfile.py": {"module", "_unmarked_utf16"},  # shares of bytes, to guess an encoding
    "openings/schedule/workbook.py": {"_number"},  # the same, while it is still a date or a number
    "openings/schedule/rows.py": {"module"},  # a quarter of an inch, exact
    "materials/catalogue/rollup.py": {"shown"},
    "materials/cutplan/case.py": {"_whole", "_shown"},  # what JSON carries
    "materials/cutplan/problem.py": {"told"},
    "crews/dayplan/model.py": {"module"},  # seconds of search
    "crews/dayplan/solve.py": {"module"},  # the same
    "crews/dayplan/plan.py": {"gap"},
    "crews/costing/compute.py": {"told"},
}
FLOAT_MATH = {
    "sqrt",
    "exp",
    "log",
    "log10",
    "log2",
    "pow",
    "sin",
    "cos",
    "tan",
    "atan",
    "hypot",
    "fsum",
    "pi",
    "inf",
    "nan",
}


def floats(files: tuple[Module, ...]) -> list[str]:
    return [
        f"{module.line(node)} {within} {what}"
        for module in files
        for within, node, what in uses(module.tree, "module")
        if not module.path.startswith(MEASURED) and within not in ROUND_ONCE.get(module.path, set())
    ]


def uses(node: ast.AST, within: str) -> list[tuple[str, ast.AST, str]]:
    """Return each use of a float below `node`, with the outermost function around it."""
    found = []
    for child in ast.iter_child_nodes(node):
        if isinstance(child, Function) and within == "module":
            found += uses(child, child.name)
            continue
        what = float_use(child)
        if what:
            found.append((within, child, what))
        found += uses(child, within)
    return found


def float_use(node: ast.AST) -> str:
    if isinstance(node, ast.Constant) and isinstance(node.value, float):
        return repr(node.value)
    if isinstance(node, ast.Call) and dotted(node.func) == "float":
        return "float()"
    if isinstance(node, ast.Attribute) and dotted(node.value) == "math" and node.attr in FLOAT_MATH:
        return f"math.{node.attr}"
    return ""


def sample(text: str) -> tuple[Module, ...]:
    return (Module("sample.py", text),)


def test_core_uses_no_float_outside_functions_that_round_once() -> None:
    assert floats(core()) == []


def test_the_search_for_floats_sees_each_way_to_one() -> None:
    for line in ["x = 0.5", "def f(a): return float(a)", "x = math.sqrt(2)"]:
        assert len(floats(sample(line))) == 1, line
    for line in ["x = Fraction(1, 2)", "x = math.ceil(a)", "x = 5"]:
        assert floats(sample(line)) == [], line


def test_each_named_exception_is_still_a_function_that_uses_floats() -> None:
    by_path = {module.path: module for module in ours()}
    for path, names in ROUND_ONCE.items():
        assert {within for within, _, _ in uses(by_path[path].tree, "module")} >= names
