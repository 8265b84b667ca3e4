"""R25: no text is declared markup; where that is needed one day, the place stands here with its reason."""

from __future__ import annotations

import ast
import json
import re

from tests.architecture.source import ROOT, Module, dotted, ours

# By path: why this place may make markup of text. At most three.
ALLOWED: dict[str, str] = {}
MOST = 3
IN_TEMPLATES = re.compile(r"\|\s*safe(?:seq)?\b|autoescape\s+off|\bhx-on\b|hx-vals=.js:")
IN_SCRIPTS = re.compile(
    r"\.innerHTML|\.outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|\.srcdoc"
)
TRUSTING = {"mark_safe", "SafeString", "SafeText", "SafeData", "safe"}


def in_texts(pattern: re.Pattern[str], *folders: str, suffixes: tuple[str, ...]) -> list[str]:
    """Return path and line of each hit in the files of these folders."""
    return [
        f"{path.relative_to(ROOT)}:{number}"
        for folder in folders
        for path in sorted((ROOT / folder).rglob("*"))
        if path.suffix in suffixes
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if pattern.search(line)
    ]


def trusting(files: tuple[Module, ...]) -> list[str]:
    """Return each call that declares text to be markup, `format_html` with a made-up pattern included."""
    found = []
    for module in files:
        for node in ast.walk(module.tree):
            if not isinstance(node, ast.Call):
                continue
            name = dotted(node.func).rpartition(".")[2]
            made_up = (
                name == "format_html" and not (node.args and isinstance(node.args[0], ast.Constant))
            ) or (
                name == "format_html_join" and not all(isinstance(arg, ast.Constant) for arg in node.args[:2])
            )
            if name in TRUSTING or made_up:
                found.append(module.line(node))
    return found


def sample(text: str) -> tuple[Module, ...]:
    return (Module("sample.py", text),)


def test_no_text_is_declared_markup_outside_the_list() -> None:
    found = [
        *trusting(ours()),
        *in_texts(IN_TEMPLATES, "templates", suffixes=(".html", ".svg", ".txt")),
        *in_texts(IN_SCRIPTS, "static", suffixes=(".js",)),
    ]

    assert [place for place in found if place.partition(":")[0] not in ALLOWED] == []
    assert set(ALLOWED) == {place.partition(":")[0] for place in found}
    assert len(ALLOWED) <= MOST


def test_the_search_for_trusted_text_sees_each_way() -> None:
    """The negative control."""
    for line in [
        "mark_safe(x)",
        "safestring.SafeString(x)",
        "format_html(x)",
        "format_html_join(x, '{}', y)",
    ]:
        assert trusting(sample(line)) == ["sample.py:1"], line
    for line in [
        "format_html('<b>{}</b>', x)",
        "format_html_join('', '{}', x)",
        "def f() -> SafeString: ...",
    ]:
        assert trusting(sample(line)) == [], line
    for line in ["{{ x|safe }}", "{{ x | safeseq }}", "{% autoescape off %}", "<p hx-on:click='x'>"]:
        assert IN_TEMPLATES.search(line), line
    for line in ["a.innerHTML = b", "a.insertAdjacentHTML('x', b)", "eval(b)"]:
        assert IN_SCRIPTS.search(line), line
    assert not IN_TEMPLATES.search('hx-swap="outerHTML"')


def test_htmx_is_told_to_evaluate_nothing_and_to_stay_here() -> None:
    page = (ROOT / "templates" / "base.html").read_text(encoding="utf-8")
    found = re.search(r"<meta name=\"htmx-config\" content='([^']+)'", page)

    assert found is not None
    told = json.loads(found[1])
    wanted = {
        "allowEval": False,
        "includeIndicatorStyles": False,
        "selfRequestsOnly": True,
        "historyCacheSize": 0,
    }
    assert {name: told.get(name) for name in wanted} == wanted
