"""Text that tries to become markup or script, and a reader of pages that tells when it did.

The strings are our own, in the style of the published lists: each breaks out of another place of a page.
"""

from __future__ import annotations

from html.parser import HTMLParser

from django.db import IntegrityError, models, transaction

from projects import triggers
from projects.models import Company, User

HIT = "lwhit"
STRINGS = (
    f"<script>{HIT}()</script>",
    f"</script><script>{HIT}()</script>",
    f"</title><script>{HIT}()</script>",
    f"</textarea><script>{HIT}()</script>",
    f"</style><script>{HIT}()</script>",
    f"--><script>{HIT}()</script>",
    f"]]><script>{HIT}()</script>",
    f"<img src=x onerror={HIT}()>",
    f"<img/src=x/onerror={HIT}()>",
    f"<IMG SRC=x OnError={HIT}()>",
    f'"><svg/onload={HIT}()>',
    f"'><svg/onload={HIT}()>",
    f"<svg><script>{HIT}()</script></svg>",
    f"</svg><svg onload={HIT}()>",
    f"</text><a xlink:href='javascript:{HIT}()'>x</a>",
    f'" autofocus onfocus={HIT}() x="',
    f"' autofocus onfocus={HIT}() x='",
    f'" onmouseover="{HIT}()',
    f"' onmouseover='{HIT}()",
    f'" style="width:expression({HIT}())',
    f"\" hx-on::load='{HIT}()' x=\"",
    f"' hx-on:click='{HIT}()' x='",
    f'" hx-vals="js:{{a:{HIT}()}}" x="',
    f'" hx-get="//evil.example/{HIT}" hx-trigger="load',
    f"<body onload={HIT}()>",
    f"<details open ontoggle={HIT}()>",
    f"<video><source onerror={HIT}()></video>",
    f"<input autofocus onfocus={HIT}()>",
    f"<marquee onstart={HIT}()>",
    f"<iframe src=javascript:{HIT}()>",
    f"<iframe srcdoc='<script>{HIT}()</script>'>",
    f"<object data=javascript:{HIT}()>",
    f"<embed src=//evil.example/{HIT}>",
    f"<base href=//evil.example/{HIT}/>",
    f"<meta http-equiv=refresh content=0;url=//{HIT}>",
    f"<link rel=stylesheet href=//evil.example/{HIT}>",
    f"<link rel=attachment href=file:///etc/{HIT}>",
    f"<form action=//evil.example/{HIT}><button>Go",
    f"<math><a xlink:href=javascript:{HIT}()>x",
    f"<x-{HIT}>",
    f"<a href=javascript:{HIT}()>x</a>",
    f"<a href=java&#115;cript:{HIT}()>x</a>",
    f"<a href=' javascript:{HIT}()'>x</a>",
    f"<style>@import'//evil.example/{HIT}'</style>",
    f"<<script>{HIT}()//<</script>",
)
# these are whole values, dangerous where a page makes an address or a template of them
VALUES = (
    f"javascript:{HIT}()",
    f"{{{{ {HIT}|add:7 }}}}",
    f"{{% debug %}}{HIT}",
    f"${{{HIT}}}",
    f"&lt;{HIT}&gt;",
)
ALL = STRINGS + VALUES

# columns whose words are the programs' own: no person types them
NOT_TYPED = {
    *("kind", "state", "status", "role", "action", "subject_kind", "unit", "material", "pack", "currency"),
    *("time_zone", "input_hash", "content_hash", "issue_body_hash", "issue_key", "rules_version", "claim"),
    *("request_id", "content_type", "file_path", "password", "method", "fin", "corners", "over_fin", "pan"),
    *("head_fasteners", "basis", "quarter", "access", "grade"),
}
LOCAL = ("/", "#", "?")
ADDRESSES = {"href", "src", "action", "formaction", "data", "xlink:href", "hx-get", "hx-post", "poster"}
NEVER = {"iframe", "object", "embed", "base", "marquee", "math", "video", "audio", "style"}


class Reader(HTMLParser):
    """Reads a page as a browser would, and keeps what a hostile text became."""

    def __init__(self) -> None:
        super().__init__()
        self.faults: list[str] = []
        self.shown: list[str] = []
        self._in: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = self.get_starttag_text() or tag
        values = {name: value or "" for name, value in attrs}
        if tag in NEVER or HIT in tag or (tag == "script" and "src" not in values):
            self.faults.append(told)
        for name, value in values.items():
            foreign = name in ADDRESSES and value and not value.startswith(LOCAL)
            if foreign and not value.startswith("mailto:"):
                self.faults.append(told)
            if name.startswith(("on", "hx-on")) or name in {"style", "srcdoc"} or value.startswith("js:"):
                self.faults.append(told)
            if name == "http-equiv" or value.startswith("//"):
                self.faults.append(told)
        self.shown += values.values()
        self._in.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in self._in:
            del self._in[len(self._in) - 1 - self._in[::-1].index(tag) :]

    def handle_data(self, data: str) -> None:
        self.shown.append(data)
        if HIT in data and self._in and self._in[-1] in {"script", "style"}:
            self.faults.append(data)


def read(html: str) -> Reader:
    """Return what became of the page's texts."""
    reader = Reader()
    reader.feed(html)
    reader.close()
    return reader


def write_everywhere(company: Company, first: int = 0) -> set[str]:
    """Write a hostile text into each text that people type, of each row there is; return what was written."""
    written, number = set(), first
    for model in [*triggers.owned_models(), Company, User]:
        rows = model._default_manager.all()
        own = rows.filter(company=company) if model not in {Company, User} else rows
        for row in own:
            for field in model._meta.concrete_fields:
                if _typed(field):
                    number += 1
                    text = ALL[number % len(ALL)][: field.max_length or None]
                    written |= {text} if _write(row, field.name, text) else set()
    return written


def _typed(field: models.Field) -> bool:
    texts = isinstance(field, models.CharField | models.TextField)
    return texts and not field.choices and field.name not in NOT_TYPED


def _write(row: models.Model, name: str, text: str) -> bool:
    """Return whether the database took the text; what no row may hold is no danger."""
    try:
        with transaction.atomic():
            return bool(type(row)._default_manager.filter(pk=row.pk).update(**{name: text}))
    except IntegrityError:
        return False
