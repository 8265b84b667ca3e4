"""What happens to every request before a view sees it."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from config.errors import refuse
from projects import request_id as ids
from projects.errors import UserError
from projects.messages import words

Respond = Callable[[HttpRequest], HttpResponse]
FORM_ALLOWANCE_BYTES = 64 * 1024  # the fields and part headers around a file of the largest size


def request_id(get_response: Respond) -> Respond:
    """Give each request an id of ours; it stands in the log, the audit row and the answer's header."""

    def respond(request: HttpRequest) -> HttpResponse:
        with ids.belonging_to() as chosen:
            response = get_response(request)
        response["X-Request-ID"] = chosen
        return response

    return respond


def proxy(get_response: Respond) -> Respond:
    """Take the visitor's address from the proxy, only where there is one: anybody can write the header."""

    def respond(request: HttpRequest) -> HttpResponse:
        forwarded = request.headers.get("X-Forwarded-For", "")
        if settings.BEHIND_PROXY and forwarded:
            # the last entry is our proxy's own; those before it are the visitor's claim
            request.META["REMOTE_ADDR"] = forwarded.rsplit(",", 1)[-1].strip()
        return get_response(request)

    return respond


def body_limit(get_response: Respond) -> Respond:
    """Refuse a body larger than the largest upload before a byte of it is read."""

    def respond(request: HttpRequest) -> HttpResponse:
        length = request.META.get("CONTENT_LENGTH") or "0"
        if not length.isdigit() or int(length) > settings.UPLOAD_LIMIT_BYTES + FORM_ALLOWANCE_BYTES:
            return refuse(request, status=413)
        return get_response(request)

    return respond


class Refusals:
    """Answers a refusal that no view caught with its own words; anything else is our failure and passes."""

    def __init__(self, get_response: Respond) -> None:
        """Keep what comes next."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """Return the refusal's page, fragment or problem document."""
        if not isinstance(exception, UserError):
            return None
        return refuse(request, status=exception.status, detail=words(exception))
