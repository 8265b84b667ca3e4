"""Answers to what went wrong: a page, an htmx fragment or problem+json, all with the same words."""

from __future__ import annotations

import errno
import sys
from collections.abc import Iterator
from http import HTTPStatus

from django.contrib.sessions.exceptions import SessionInterrupted
from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.db import DatabaseError, InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template.loader import render_to_string

from projects import kept, request_id
from projects.messages import LOST_WHILE_ANSWERING, STATUS_WORDS

DISK_TEXTS = (
    "database or disk is full",
    "disk i/o error",
    "no space left on device",
    "could not extend file",
    # what SQLite makes of a read that failed (EIO), besides of a file that is damaged
    "database disk image is malformed",
)
NOT_OURS = (HTTPStatus.SERVICE_UNAVAILABLE, HTTPStatus.INSUFFICIENT_STORAGE)
RETRY_AFTER_SECONDS = {429: 900, 503: 30}


def refuse(request: HttpRequest, *, status: int, detail: str = "") -> HttpResponse:
    """Return the answer for `status`; `detail` replaces the usual words for it."""
    title, usual = STATUS_WORDS.get(status, STATUS_WORDS[400])
    told = detail or usual
    if _wants_json(request):
        response: HttpResponse = _problem(request, status=status, title=title, detail=told)
    else:
        response = HttpResponse(_page(request, status=status, title=title, detail=told), status=status)
    if status in RETRY_AFTER_SECONDS:
        response["Retry-After"] = str(RETRY_AFTER_SECONDS[status])
    response["Cache-Control"] = "no-store"
    return response


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer a request that cannot be read; a session that the database did not take is no such request."""
    if isinstance(exception, RequestDataTooBig | TooManyFieldsSent | TooManyFilesSent):
        return refuse(request, status=HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
    if isinstance(exception, SessionInterrupted):
        away = {status_of_failure(error) for error in _that_led_to(exception)} & set(NOT_OURS)
        if away:
            # the view is through: what it wrote is kept, or is not
            return refuse(request, status=min(away), detail=LOST_WHILE_ANSWERING)
    return refuse(request, status=HTTPStatus.BAD_REQUEST)


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer somebody whose role does not allow this."""
    return refuse(request, status=403)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer for what does not exist, or belongs to another company: the same words for both."""
    return refuse(request, status=404)


def failed(request: HttpRequest) -> HttpResponse:
    """Answer our own failure; a disk that is full or fails and a database that is away are told apart."""
    return refuse(request, status=status_of_failure(sys.exc_info()[1]))


def old_page(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form whose session or token is gone; what was typed is kept, unless another site sent it."""
    kept.keep(request)
    return refuse(request, status=403, detail=STATUS_WORDS[419][1])


def too_many_guesses(request: HttpRequest, *_: object) -> HttpResponse:
    """Answer the eleventh wrong password, alike for known and unknown people."""
    return refuse(request, status=429)


def status_of_failure(error: BaseException | None) -> int:
    """Return 507 for a disk that is full or fails, 503 for a database out of reach, else 500."""
    if isinstance(error, OSError) and error.errno in {errno.ENOSPC, errno.EDQUOT}:
        return HTTPStatus.INSUFFICIENT_STORAGE
    if isinstance(error, DatabaseError) and any(words in str(error).lower() for words in DISK_TEXTS):
        return HTTPStatus.INSUFFICIENT_STORAGE
    if isinstance(error, OperationalError | InterfaceError):
        return HTTPStatus.SERVICE_UNAVAILABLE
    return HTTPStatus.INTERNAL_SERVER_ERROR


def _that_led_to(error: BaseException | None) -> Iterator[BaseException]:
    """Yield a failure and those that it came from."""
    while error is not None:
        yield error
        error = error.__context__


def _wants_json(request: HttpRequest) -> bool:
    return request.get_preferred_type(["text/html", "application/json"]) == "application/json"


def _problem(request: HttpRequest, *, status: int, title: str, detail: str) -> JsonResponse:
    words = {"type": "about:blank", "title": title, "status": int(status), "detail": detail}
    problem = {**words, "instance": request.path}
    return JsonResponse(problem, status=status, content_type="application/problem+json")


def _page(request: HttpRequest, *, status: int, title: str, detail: str) -> str:
    words = {"status": int(status), "title": title, "detail": detail, "request_id": request_id.current()}
    if request.headers.get("HX-Request") == "true":
        return render_to_string("errors/refusal.html#words", words)
    if status >= HTTPStatus.INTERNAL_SERVER_ERROR:
        # no request: the page's frame would ask the database, which may be what failed
        return render_to_string("errors/failure.html", words)
    return render_to_string("errors/refusal.html", words, request)
