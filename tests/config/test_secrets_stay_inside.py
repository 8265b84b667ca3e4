"""R28: what settings and passwords say stands in no page and in no log line, whatever breaks."""

from __future__ import annotations

import logging

import pytest
from django.conf import settings
from django.test import Client
from django.urls import include, path
from django.utils.log import DEFAULT_LOGGING

from config.logs import OneLine
from tests.config.test_answers import STATUSES, breaking
from tests.config.test_answers import urlpatterns as breaking_addresses

pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]
PASSWORD = "nine stout oak pegs"
urlpatterns = [
    path("secret", breaking(RuntimeError("broke"))),
    path("telling", breaking(RuntimeError(settings.SECRET_KEY))),
    *breaking_addresses,
    path("", include("config.urls")),
]
handler400, handler403 = "config.errors.bad_request", "config.errors.forbidden"
handler404, handler500 = "config.errors.not_found", "config.errors.failed"
ANSWERS = [{"Accept": "text/html"}, {"Accept": "application/json"}, {"HX-Request": "true"}]


def inside():
    """Return what may not come out: the key, where data lies, names of settings, a password."""
    database = str(settings.DATABASES["default"]["NAME"])
    names = ("SECRET_KEY", "DATABASES", "CELERY_BROKER_URL", "Traceback", "settings")
    return [
        settings.SECRET_KEY,
        database,
        settings.CELERY_BROKER_URL,
        str(settings.MEDIA_ROOT),
        PASSWORD,
        *names,
    ]


@pytest.mark.parametrize("address", [*STATUSES, "secret", "telling"])
@pytest.mark.parametrize("headers", ANSWERS, ids=lambda headers: next(iter(headers)))
def test_no_answer_to_a_failure_shows_settings(address, headers):
    client = Client(raise_request_exception=False)

    answer = client.post(f"/{address}", {"password": PASSWORD}, headers=headers)

    assert answer.status_code >= 400
    text = answer.content.decode() + str(dict(answer.headers))
    assert [found for found in inside() if found in text] == []


def test_a_page_that_shows_its_failure_would_be_seen(settings):
    """The negative control: the same failure with DEBUG on."""
    settings.DEBUG = True
    client = Client(raise_request_exception=False)

    text = client.post("/telling", {"password": PASSWORD}).content.decode()

    assert [found for found in inside() if found in text] != []


def test_a_failure_is_logged_without_what_was_typed(caplog):
    client = Client(raise_request_exception=False)

    with caplog.at_level(logging.WARNING):
        client.post("/secret?token=quiet", {"password": PASSWORD})

    lines = [OneLine().format(record) for record in caplog.records]
    told = "\n".join(lines)
    assert "RuntimeError: broke" in told
    assert PASSWORD not in told
    assert "quiet" not in told
    assert settings.SECRET_KEY not in told


def test_a_wrong_password_is_logged_nowhere(caplog):
    with caplog.at_level(logging.DEBUG):
        Client().post("/sign-in/", {"username": "dana@setters.example", "password": PASSWORD})

    assert PASSWORD not in "\n".join(record.getMessage() for record in caplog.records)


def test_no_failure_is_mailed():
    """Django would mail the whole request to the administrators; nobody asked for that."""
    assert "mail_admins" in DEFAULT_LOGGING["loggers"]["django"]["handlers"]
    assert settings.LOGGING["loggers"]["django"]["handlers"] == []
    assert settings.ADMINS == []
