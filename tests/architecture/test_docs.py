"""Whatever can be set or called is named in the documentation, and what the documentation names is there."""

from __future__ import annotations

import ast
import re

from tests.architecture.source import APPS, ROOT, Module, dotted, ours

RUNNING = (ROOT / "docs" / "running.md").read_text(encoding="utf-8")
READ_BY = (
    "env.str",
    "env.int",
    "env.bool",
    "env.list",
    "env.db_url",
    "os.environ.get",
    "os.environ.setdefault",
)


def variables(files: tuple[Module, ...]) -> set[str]:
    """Return the names of the environment variables that the code reads."""
    named = set()
    for module in files:
        for node in ast.walk(module.tree):
            read = isinstance(node, ast.Call) and dotted(node.func) in READ_BY and node.args
            if read and isinstance(node.args[0], ast.Constant):
                named.add(node.args[0].value)
    return named


def commands() -> set[str]:
    """Return the names of the management commands."""
    folders = [ROOT / app / "management" / "commands" for app in APPS]
    return {path.stem for folder in folders for path in folder.glob("*.py") if path.stem != "__init__"}


def documentation() -> str:
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").rglob("*.md"))]
    return "\n".join(page.read_text(encoding="utf-8") for page in pages)


def test_every_environment_variable_is_documented():
    # PATH, PGUSER and the like are the system's, read by scripts alone
    ours_alone = {name for name in variables(ours()) if name not in {"PGUSER", "PATH"}}

    assert sorted(name for name in ours_alone if f"`{name}`" not in RUNNING) == []


def test_every_documented_variable_is_read():
    table = RUNNING.partition("## Settings")[2].partition("## What happens")[0]
    documented = {
        name
        for row in table.splitlines()
        for name in re.findall(r"`([A-Z_]{3,})`", row.split("|")[1] if "|" in row else "")
    }

    assert documented - variables(ours()) == set()
    assert len(documented) > 10


def test_every_command_is_documented():
    text = documentation()

    assert sorted(name for name in commands() if not re.search(rf"[` ]{name}\b", text)) == []


def test_every_make_target_is_documented():
    targets = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(), re.MULTILINE)) - {
        "help",
        "setup-dev",
    }

    assert sorted(name for name in targets if f"make {name}" not in documentation()) == []


def test_links_between_pages_lead_somewhere():
    dead = []
    for page in [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").rglob("*.md"))]:
        for target in re.findall(r"\]\(([^)#]+)[^)]*\)", page.read_text(encoding="utf-8")):
            if "://" not in target and not (page.parent / target).exists():
                dead.append(f"{page.relative_to(ROOT)}: {target}")

    assert dead == []
