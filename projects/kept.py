"""What somebody typed while the session had ended: kept, shown again after signing in, sent by hand."""

from __future__ import annotations

from typing import TypedDict
from urllib.parse import urlsplit

from django.http import HttpRequest

KEPT = "kept_entry"
MARK = "kept_entry"  # the field by which a form sent again says so
LARGEST_CHARACTERS = 64 * 1024
_NEVER = {"csrfmiddlewaretoken", "password", "password_again", "old_password", MARK}


class Entry(TypedDict):
    """A kept form: where it goes, its fields as pairs, and whether files were left out."""

    path: str
    fields: list[tuple[str, str]]
    files: bool


def keep(request: HttpRequest) -> bool:
    """Return whether the form's fields were kept. Never kept: passwords, files, forms of other sites."""
    if request.method != "POST" or not _is_from_here(request):
        return False
    fields = [
        (name, value) for name, values in request.POST.lists() for value in values if name not in _NEVER
    ]
    if not fields or sum(len(name) + len(value) for name, value in fields) > LARGEST_CHARACTERS:
        return False
    request.session[KEPT] = {"path": request.path, "fields": fields, "files": bool(request.FILES)}
    return True


def entry(request: HttpRequest) -> Entry | None:
    """Return what is kept, None where nothing is."""
    kept: Entry | None = request.session.get(KEPT)
    return kept


def shown(entry: Entry) -> list[tuple[str, str]]:
    """Return what a person typed, under the fields' names in plain letters, without what was left empty."""
    return [
        (name.replace("_", " ").capitalize(), value)
        for name, value in entry["fields"]
        if value and name != "version"
    ]


def drop(request: HttpRequest) -> None:
    """Forget what was kept."""
    request.session.pop(KEPT, None)


def _is_from_here(request: HttpRequest) -> bool:
    origin = request.headers.get("Origin") or request.headers.get("Referer") or ""
    if not origin:
        return True
    return urlsplit(origin).netloc == request.get_host()
