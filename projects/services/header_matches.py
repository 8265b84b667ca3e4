"""Remembering what a builder calls our columns."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction

from projects.actors import Actor
from projects.models import HeaderMatch
from projects.rights import Action, require
from projects.services.writing import record
from projects.texts import clean_text


@transaction.atomic
def remember_headers(*, by: Actor, builder: str, mapping: Mapping[str, str | None]) -> HeaderMatch:
    """Return the builder's match with `mapping` (their header to our column, None to ignore) added to it."""
    require(by, Action.IMPORT_OPENINGS)
    name = clean_text(builder, field="builder", what="Builder", longest=120)
    rows = HeaderMatch.objects.of(by.company)
    match = rows.select_for_update().filter(builder__iexact=name).first()
    if match is None:
        match, _ = rows.get_or_create(builder=name, defaults={"company": by.company})
    before = dict(match.mapping)
    after = {**before, **mapping}
    if after != before:
        match.mapping = after
        match.save(update_fields=["mapping"])
        record(by=by, action="remember headers", subject=match, before=before, after=after)
    return match
