"""Every answer carries the headers, and every refusal says what happened in the form that was asked for."""

from __future__ import annotations

import errno
from datetime import timedelta
from types import SimpleNamespace
from urllib.parse import quote

import hypothesis
import pytest
import time_machine
from django.core.exceptions import BadRequest, PermissionDenied, RequestDataTooBig
from django.db import DatabaseError, OperationalError, connection
from django.http import Http404, HttpResponse
from django.test import Client, override_settings
from django.urls import get_resolver, include, path
from django.urls.resolvers import URLPattern, URLResolver
from django.utils import timezone
from hypothesis import strategies as st

from config import errors
from projects.errors import BadValue
from projects.messages import STATUS_WORDS

pytestmark = pytest.mark.django_db
LATER = timedelta(minutes=30)  # a session's clock is written now and then
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
}


def breaking(error):
    def view(request):
        raise error

    view.is_public = True
    return view


def fine(request):
    return HttpResponse("fine")


fine.is_public = True
urlpatterns = [
    path("fine", fine),
    path("value", breaking(BadValue(problem="The width is 1 1/2 in.", remedy="Check the unit column."))),
    path("missing", breaking(Http404())),
    path("denied", breaking(PermissionDenied())),
    path("unreadable", breaking(BadRequest("half a number"))),
    path("bug", breaking(ZeroDivisionError("secret=hunter2"))),
    path("database-away", breaking(OperationalError("could not connect to server: refused"))),
    path("disk-full", breaking(OperationalError("database or disk is full"))),
    path("disk-unread", breaking(DatabaseError("database disk image is malformed"))),
    path("disk-error", breaking(OperationalError("disk I/O error"))),
    path("no-space", breaking(OSError(errno.ENOSPC, "No space left on device"))),
    path("too-big", breaking(RequestDataTooBig("body exceeded"))),
    path("", include("config.urls")),
]
handler400, handler403 = "config.errors.bad_request", "config.errors.forbidden"
handler404, handler500 = "config.errors.not_found", "config.errors.failed"
STATUSES = {
    "value": 422,
    "missing": 404,
    "denied": 403,
    "unreadable": 400,
    "bug": 500,
    "database-away": 503,
    "disk-full": 507,
    "disk-unread": 507,
    "disk-error": 507,
    "no-space": 507,
    "too-big": 413,
}


@pytest.fixture
def client():
    with override_settings(ROOT_URLCONF=__name__):
        yield Client(raise_request_exception=False)


def routes(resolver=None, prefix=""):
    """Yield each address of the project, its parameters filled with a 1."""
    for entry in (resolver or get_resolver()).url_patterns:
        if isinstance(entry, URLResolver):
            yield from routes(entry, prefix + str(entry.pattern))
        elif isinstance(entry, URLPattern):
            yield "/" + prefix + str(entry.pattern)


def filled(route):
    parts = ["1" if part.startswith("<") else part for part in route.split("/")]
    return "/".join(parts)


def test_every_route_answers_with_the_protecting_headers():
    client = Client(raise_request_exception=False)
    addresses = [filled(route) for route in routes()]

    for address in addresses:
        answer = client.get(address)
        assert {name: answer.headers.get(name) for name in HEADERS} == HEADERS, address
        policy = answer.headers["Content-Security-Policy"]
        assert "unsafe-inline" not in policy
        assert "unsafe-eval" not in policy
        assert "frame-ancestors 'none'" in policy
        assert "script-src 'self'" in policy
    assert len(addresses) > 10


def test_answer_without_the_middleware_would_be_seen(settings):
    """Negative control: the check above reads what the middleware adds."""
    settings.MIDDLEWARE = [
        name for name in settings.MIDDLEWARE if "CSP" not in name and "Security" not in name
    ]

    answer = Client().get("/healthz")

    assert "Content-Security-Policy" not in answer.headers
    assert "Referrer-Policy" not in answer.headers


@pytest.mark.parametrize(("address", "status"), STATUSES.items())
def test_refusal_answers_with_its_status_and_words_on_a_page(client, address, status):
    answer = client.get(f"/{address}", headers={"Accept": "text/html"})

    assert answer.status_code == status
    text = answer.content.decode()
    words = "Check the unit column." if address == "value" else STATUS_WORDS[status][1].replace("'", "&#x27;")
    assert words in text
    assert "hunter2" not in text
    assert "Traceback" not in text


@pytest.mark.parametrize(("address", "status"), STATUSES.items())
def test_refusal_answers_in_json_as_a_problem_document(client, address, status):
    answer = client.get(f"/{address}", headers={"Accept": "application/json"})

    assert (answer.status_code, answer.headers["Content-Type"]) == (status, "application/problem+json")
    problem = answer.json()
    assert set(problem) == {"type", "title", "status", "detail", "instance"}
    assert (problem["status"], problem["instance"]) == (status, f"/{address}")


@pytest.mark.parametrize(("address", "status"), STATUSES.items())
def test_refusal_answers_htmx_with_a_fragment_of_the_same_words(client, address, status):
    fragment = client.get(f"/{address}", headers={"HX-Request": "true"}).content.decode()
    problem = client.get(f"/{address}", headers={"Accept": "application/json"}).json()

    assert "<html" not in fragment
    assert problem["detail"].replace("'", "&#x27;") in fragment


def test_away_database_and_lock_out_say_when_to_come_back(client):
    assert client.get("/database-away").headers["Retry-After"] == "30"
    assert errors.too_many_guesses(a_request()).headers["Retry-After"] == "900"


def while_sessions_are_not_taken(error):
    """Let the database fail whenever a session is written, and do everything else."""

    def failing(execute, sql, params, many, context):
        if sql.startswith('UPDATE "django_session"'):
            raise error
        return execute(sql, params, many, context)

    return connection.execute_wrapper(failing)


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (OperationalError("server closed the connection unexpectedly"), 503),
        (OperationalError("database or disk is full"), 507),
    ],
)
def test_database_that_goes_away_while_it_answers_is_told_as_away(client, manager, error, status):
    client.force_login(manager.user)
    client.get("/")

    with while_sessions_are_not_taken(error), time_machine.travel(timezone.now() + LATER):
        answer = client.get("/")

    assert answer.status_code == status
    assert "What you sent may be saved" in answer.content.decode()


def test_session_that_is_gone_while_it_answers_is_no_failure_of_the_database(client, manager):
    """The control: the same error of the session, with the database there."""
    client.force_login(manager.user)
    client.get("/")
    gone = DatabaseError("Forced update did not affect any rows.")

    with while_sessions_are_not_taken(gone), time_machine.travel(timezone.now() + LATER):
        assert client.get("/").status_code == 400


def test_old_page_says_that_the_entry_is_kept():
    client = Client(enforce_csrf_checks=True)

    answer = client.post("/sign-in/", {"username": "dana@setters.example"})

    assert answer.status_code == 403
    assert "Sign in; your entry is kept." in answer.content.decode()


def test_body_over_the_limit_is_refused_unread(client, settings):
    settings.UPLOAD_LIMIT_BYTES = 1000

    answer = client.post("/fine", b"x" * (1000 + 64 * 1024 + 1), content_type="application/octet-stream")

    assert answer.status_code == 413
    assert "Split it" in answer.content.decode()


def test_body_at_the_limit_passes(client, settings):
    settings.UPLOAD_LIMIT_BYTES = 1000

    answer = client.post("/fine", b"x" * (1000 + 64 * 1024), content_type="application/octet-stream")

    assert answer.content == b"fine"


@pytest.mark.parametrize("length", ["-1", "many", "1e3"])
def test_body_of_a_length_that_is_no_number_is_refused(client, length):
    assert client.get("/fine", CONTENT_LENGTH=length).status_code == 413


def test_forged_host_is_refused():
    assert Client().get("/healthz", headers={"Host": "evil.example"}).status_code == 400


def test_each_answer_carries_an_id_of_its_own(client):
    first, second = client.get("/fine"), client.get("/fine", headers={"X-Request-ID": "mine\r\nforged"})

    assert first.headers["X-Request-ID"] != second.headers["X-Request-ID"]
    assert "mine" not in second.headers["X-Request-ID"]


@pytest.mark.parametrize(("behind", "seen"), [(False, "10.0.0.1"), (True, "203.0.113.9")])
def test_forwarded_address_counts_only_behind_our_own_proxy(settings, behind, seen):
    from config.middleware import proxy

    settings.BEHIND_PROXY = behind
    request = SimpleNamespace(
        headers={"X-Forwarded-For": "1.2.3.4, 203.0.113.9"}, META={"REMOTE_ADDR": "10.0.0.1"}
    )

    proxy(lambda _: None)(request)

    assert request.META["REMOTE_ADDR"] == seen


anything = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=40)


@hypothesis.settings(max_examples=60, deadline=None, suppress_health_check=list(hypothesis.HealthCheck))
@hypothesis.given(parts=st.lists(anything, max_size=4), query=anything, signed_in=st.booleans())
def test_no_address_that_somebody_makes_up_breaks_us(parts, query, signed_in, owner):
    client = Client(raise_request_exception=False)
    if signed_in:
        client.force_login(owner.user, backend="django.contrib.auth.backends.ModelBackend")
    address = "/" + "/".join(quote(part, safe="") for part in parts)

    for asked in (f"{address}?{quote(query)}", f"{address}/?page={quote(query)}"):
        assert client.get(asked).status_code < 500


@pytest.mark.parametrize(
    "query", ["page=-1", "page=0", "page=x", "page=99999999999999999999", "sort=password", "id=1&id=2"]
)
def test_no_odd_query_breaks_a_list(query, owner):
    client = Client(raise_request_exception=False)
    client.force_login(owner.user, backend="django.contrib.auth.backends.ModelBackend")

    for address in (filled(route) for route in routes()):
        assert client.get(f"{address}?{query}").status_code < 500, address


def a_request():
    from django.test import RequestFactory

    return RequestFactory().get("/sign-in/")
