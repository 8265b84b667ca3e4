"""found_company: set up a company and its owner, who then chooses a password by a link."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.core.management.base import CommandParser
from django.urls import reverse

from projects import services
from projects.choosing import make_ready
from projects.commandline import Answer, AnswerCommand


class Command(AnswerCommand):
    """Sets up a company. The printed address works once, within three days, for whoever opens it first."""

    help = "Set up a company and its owner."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the company's code and name, and its owner."""
        parser.add_argument("code", help="short code for commands, such as HARROW")
        parser.add_argument("--name", required=True, help="the company's name")
        parser.add_argument("--owner-email", required=True, help="the owner's e-mail address: the sign-in")
        parser.add_argument("--owner-name", required=True, help="the owner's name")
        parser.add_argument("--time-zone", default="America/New_York", help="such as America/Phoenix")
        parser.add_argument("--currency", default="USD", help="three letters")

    def answer(self, **options: Any) -> Answer:
        """Return the company's code and the address at which the owner chooses a password."""
        make_ready()
        names = ("code", "name", "owner_email", "owner_name", "time_zone", "currency")
        owner = services.found_company(**{name: options[name] for name in names})
        values = {"company": owner.company.code, "owner": owner.user.email, "address": None}
        if not owner.user.has_usable_password():
            who, token = services.hand_out_link(by=owner, membership=owner)
            values["address"] = reverse("choose-password", args=[who, token])
        return Answer(values)

    def lines(self, document: Mapping[str, Any]) -> Sequence[str]:
        """Return what to do next."""
        told = [f"Company {document['company']} is set up; its owner is {document['owner']}."]
        if document["address"]:
            told.append(f"The owner chooses a password at {document['address']} within three days.")
        else:
            told.append("The owner signs in with the password that is known already.")
        return told
