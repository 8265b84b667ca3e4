"""Hands a message to the mail server, or to a folder where there is none. The only place that does."""

from __future__ import annotations

import logging
from smtplib import SMTPException, SMTPRecipientsRefused

from django.conf import settings
from django.core.mail import EmailMessage

from projects.errors import UserError

FOLDER = "django.core.mail.backends.filebased.EmailBackend"

log = logging.getLogger("lapwise.mail")


class MailIsAway(UserError):
    """The mail server could not be reached, or took nothing."""

    code = "mail_is_away"
    status = 503


class AddressRefused(UserError):
    """The mail server knows the address to be none."""

    code = "address_refused"


def post(message: EmailMessage) -> None:
    """Hand the message over. Raises AddressRefused, or MailIsAway where another try may help."""
    if not has_server():
        message.send()
        return
    try:
        message.send()
    except SMTPRecipientsRefused as reason:
        # below 500 it may take the same address later (RFC 5321, 4.2.1)
        if any(code < 500 for code, _ in reason.recipients.values()):
            raise MailIsAway from reason
        raise AddressRefused(address=", ".join(message.to)) from reason
    except (SMTPException, OSError) as reason:
        log.warning("the mail server took nothing: %s", type(reason).__name__)
        raise MailIsAway from reason


def has_server() -> bool:
    """Return whether messages go out at all, and not into a folder."""
    return settings.EMAIL_BACKEND != FOLDER
