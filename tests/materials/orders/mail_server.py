"""A mail server of the test's own: it keeps what it takes, and refuses what it is told to."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from email import message_from_bytes, policy
from email.message import EmailMessage

from aiosmtpd.controller import Controller

from config.environment import env, mail
from tests.materials.orders.web import free_port

TAKEN = "250 OK"


@dataclass
class Post:
    """What came over the wire; `answers` say what the server says to an address or to a whole message."""

    port: int = 0
    answers: dict[str, str] = field(default_factory=dict)
    senders: list[str] = field(default_factory=list)
    recipients: list[list[str]] = field(default_factory=list)
    messages: list[bytes] = field(default_factory=list)

    async def handle_RCPT(self, server, session, envelope, address, options):  # noqa: N802  # the library's name
        told = self.answers.get("RCPT", TAKEN)
        if told == TAKEN:
            envelope.rcpt_tos.append(address)
        return told

    async def handle_DATA(self, server, session, envelope):  # noqa: N802  # the library's name
        told = self.answers.get("DATA", TAKEN)
        if told == TAKEN:
            self.senders.append(envelope.mail_from)
            self.recipients.append(envelope.rcpt_tos)
            self.messages.append(envelope.original_content)
        return told

    @property
    def letters(self) -> list[EmailMessage]:
        return [message_from_bytes(content, policy=policy.default) for content in self.messages]


@contextmanager
def a_mail_server() -> Iterator[Post]:
    """Run it for as long as the block lasts."""
    post = Post(free_port())
    controller = Controller(post, hostname="127.0.0.1", port=post.port)
    controller.start()
    try:
        yield post
    finally:
        controller.stop()


def point_at(settings, port: int, monkeypatch) -> None:
    """Set the mail up as EMAIL_URL does."""
    monkeypatch.setitem(env.ENVIRON, "EMAIL_URL", f"smtp://127.0.0.1:{port}")
    for name, value in mail(settings.MEDIA_ROOT).items():
        setattr(settings, name, value)
