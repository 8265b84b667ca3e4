"""Taking a whole company away, with what triggers else keep for good: for the demo, and nothing else."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from functools import partial

from django.db import connection, transaction

from projects import triggers
from projects.job_files import KINDS, folder_of
from projects.models import Company, Device, Membership, User


@transaction.atomic
def remove_company(*, company: Company) -> Mapping[str, int]:
    """Remove the company, all its rows and files, and the people who sign in for no other.

    Returns how many rows of each kind are gone. It asks for no rights: only whoever runs commands on the
    server can call it.
    """
    counts: dict[str, int] = {}
    connection.check_constraints()  # PostgreSQL lets no trigger go while a check on its table waits
    with triggers.lifted():
        people = _signing_in_here_alone(company)
        for model in triggers.owned_models():
            # references are checked once all is gone, so that no order matters
            gone = model.objects.of(company)._raw_delete("default")
            if gone:
                counts[str(model._meta.verbose_name_plural)] = gone
        Device.objects.filter(user__in=people)._raw_delete("default")
        User.objects.filter(pk__in=people)._raw_delete("default")
        Company.objects.filter(pk=company.pk)._raw_delete("default")
        connection.check_constraints()
    for kind in KINDS:
        transaction.on_commit(partial(shutil.rmtree, folder_of(company.pk, kind), ignore_errors=True))
    return counts


def _signing_in_here_alone(company: Company) -> list[int]:
    elsewhere = Membership.objects.exclude(company=company).values("user")
    here = User.objects.filter(memberships__company=company).exclude(pk__in=elsewhere)
    return list(here.values_list("pk", flat=True))
