"""A phone on which somebody signs in, and mornings on which it is taken out again."""

from __future__ import annotations

import datetime as dt

from django.conf import settings
from django.test import Client

from projects.models import Device
from tests.factories.people import PASSWORD

MORNING = dt.datetime(2026, 6, 1, 7, 0, tzinfo=dt.UTC)
DAY, HOUR, MINUTE = dt.timedelta(days=1), dt.timedelta(hours=1), dt.timedelta(minutes=1)
ANDROID = "Mozilla/5.0 (Linux; Android 14; K) AppleWebKit/537.36 Chrome/126.0 Mobile Safari/537.36"


class Phone:
    """One browser. `typed` counts how often the password was typed into it."""

    def __init__(self, **options):
        self.client = Client(headers={"User-Agent": ANDROID}, **options)
        self.typed = 0

    def sign_in(self, person, *, own=True, **more):
        self.typed += 1
        form = {"username": person.user.email, "password": PASSWORD, **more}
        return self.client.post("/sign-in/", {**form, **({"own_phone": "on"} if own else {})})

    def is_in(self):
        return self.client.get("/").status_code == 200

    def look(self, person, *, own=True):
        """Open the first page; where it asks for the password, type it."""
        if not self.is_in():
            assert self.sign_in(person, own=own).status_code == 302
            assert self.is_in()

    @property
    def token(self):
        return self._cookie(settings.DEVICE_COOKIE_NAME)

    @property
    def session(self):
        return self._cookie(settings.SESSION_COOKIE_NAME)

    def copy(self, *, session=False):
        """Return another browser that holds this one's token, and its session where asked."""
        other = Phone()
        other.client.cookies[settings.DEVICE_COOKIE_NAME] = self.token
        if session:
            other.client.cookies[settings.SESSION_COOKIE_NAME] = self.session
        return other

    def _cookie(self, name):
        return self.client.cookies[name].value if name in self.client.cookies else ""


def own_phone_of(person):
    """Return a phone on which the person stays signed in, and its row."""
    phone = Phone()
    phone.sign_in(person)
    return phone, Device.objects.get(user=person.user, ended_at=None)


def told(answer):
    """Return the phone's cookie that the answer sets, None where it sets none."""
    return answer.cookies.get(settings.DEVICE_COOKIE_NAME)
