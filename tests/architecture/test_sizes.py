"""Nothing grows past what one reading takes in, and every function says what it takes and gives."""

from __future__ import annotations

import ast

from tests.architecture.source import Function, Module, core, modules, ours

LONGEST_MODULE = 300
LONGEST_FUNCTION = 40
DEEPEST_NESTING = 3
BLOCKS = (ast.If, ast.For, ast.While, ast.Try, ast.Match)  # `with` is no branch


def long_modules(files: tuple[Module, ...]) -> list[str]:
    lengths = {module.path: module.text.count("\n") for module in files}
    return [f"{path}: {lines} lines" for path, lines in lengths.items() if lines > LONGEST_MODULE]


def long_functions(files: tuple[Module, ...]) -> list[str]:
    return [
        f"{module.line(function)} {function.name}: {length(function)} lines"
        for module in files
        for function in module.functions()
        if length(function) > LONGEST_FUNCTION
    ]


def length(function: Function) -> int:
    return (function.end_lineno or 0) - function.lineno + 1


def deep_functions(files: tuple[Module, ...]) -> list[str]:
    return [
        f"{module.line(function)} {function.name}: {depth(function.body)} deep"
        for module in files
        for function in module.functions()
        if depth(function.body) > DEEPEST_NESTING
    ]


def depth(body: list[ast.stmt]) -> int:
    """Return how many blocks lie in one another; `elif` is no deeper than its `if`."""
    return max((depth_of(statement) for statement in body), default=0)


def depth_of(statement: ast.stmt) -> int:
    if not isinstance(statement, BLOCKS):
        return 0
    if isinstance(statement, ast.Match):
        return 1 + max(depth(case.body) for case in statement.cases)
    branches = [getattr(statement, name, []) for name in ("body", "finalbody")]
    branches += [handler.body for handler in getattr(statement, "handlers", [])]
    below = 1 + max(depth(branch) for branch in branches)
    after = getattr(statement, "orelse", [])
    if len(after) == 1 and isinstance(statement, ast.If) and isinstance(after[0], ast.If):
        return max(below, depth_of(after[0]))
    return max(below, 1 + depth(after)) if after else below


def untyped_functions(files: tuple[Module, ...]) -> list[str]:
    return [
        f"{module.line(function)} {function.name}"
        for module in files
        for function in module.functions()
        if function.returns is None
        or any(argument.annotation is None for argument in named_arguments(function))
    ]


def named_arguments(function: Function) -> list[ast.arg]:
    told = function.args
    first = told.posonlyargs + told.args
    if first and first[0].arg in {"self", "cls"}:
        first = first[1:]
    return [*first, *told.kwonlyargs, *(star for star in (told.vararg, told.kwarg) if star)]


def undocumented(files: tuple[Module, ...]) -> list[str]:
    missing = []
    for module in files:
        if module.tree.body and not ast.get_docstring(module.tree):
            missing.append(module.path)
        for node in public_parts(module.tree.body):
            if not ast.get_docstring(node):
                missing.append(f"{module.line(node)} {node.name}")
    return missing


def public_parts(body: list[ast.stmt]) -> list[Function | ast.ClassDef]:
    found: list[Function | ast.ClassDef] = []
    for node in body:
        if isinstance(node, ast.ClassDef | Function) and not node.name.startswith("_"):
            found.append(node)
            if isinstance(node, ast.ClassDef):
                found += public_parts(node.body)
    return found


def sample(text: str) -> tuple[Module, ...]:
    return (Module("sample.py", text),)


def test_no_module_is_longer_than_three_hundred_lines() -> None:
    assert long_modules(modules("projects", "openings", "materials", "crews", "config", "tests")) == []
    assert long_modules(sample("x = 1\n" * 301)) == ["sample.py: 301 lines"]


def test_no_function_is_longer_than_forty_lines() -> None:
    assert long_functions(ours()) == []
    assert long_functions(sample("def f():\n" + "    x = 1\n" * 40)) == ["sample.py:1 f: 41 lines"]


def test_no_function_nests_deeper_than_three_blocks() -> None:
    four = "def f():\n for a in b:\n  if a:\n   while a:\n    if a:\n     pass\n"

    assert deep_functions(ours()) == []
    assert deep_functions(sample(four)) == ["sample.py:1 f: 4 deep"]
    assert deep_functions(sample("def f():\n if a:\n  pass\n elif b:\n  pass\n elif c:\n  pass\n")) == []


def test_every_function_is_typed() -> None:
    assert untyped_functions(ours()) == []
    assert untyped_functions(sample("def f(a) -> int: ...")) == ["sample.py:1 f"]
    assert untyped_functions(sample("def f(a: int): ...")) == ["sample.py:1 f"]
    assert untyped_functions(sample("class A:\n def f(self, *b: int) -> int: ...")) == []


def test_everything_public_in_the_core_says_what_it_is() -> None:
    assert undocumented(core()) == []
    assert undocumented(sample('"""M."""\nclass A:\n  """A."""\n  def f(self): ...')) == ["sample.py:4 f"]


def test_every_module_of_the_core_says_that_it_is_pure() -> None:
    reading_files = {
        "openings/methods/load.py",
        "materials/catalogue/load.py",
        "materials/compatibility/load.py",
    }
    silent = [
        module.path
        for module in core()
        if module.tree.body and "Pure." not in (ast.get_docstring(module.tree) or "")
    ]

    assert sorted(set(silent) - reading_files) == []
