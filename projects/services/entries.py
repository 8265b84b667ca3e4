"""What a form writes once, however often it is sent: an entry with its key and the hash of what it said."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from typing import Any, TypeVar, cast

from django.utils import timezone

from projects.actors import Actor
from projects.errors import BadValue, UserError
from projects.models import Owned

Entry = TypeVar("Entry", bound=Owned)


def enter_once(
    model: type[Entry], *, by: Actor, key: str, body: Sequence[object], other: type[UserError], **fields: Any
) -> tuple[Entry, bool]:
    """Return the entry of the form with `key`, and whether it is new: made now, by the actor, of `fields`.

    `model` has `at`, `by`, `key` and `body_hash`; `body` is plain values. The caller holds a row that all who
    send such forms hold. Raises BadValue without a key, `other` where the key came with another body before.
    """
    if not key:
        raise BadValue(problem="The form lost its key.", remedy="Reload the page and send it again.")
    told = hashlib.sha256(json.dumps(list(body), sort_keys=True).encode()).hexdigest()
    rows = cast(Any, model)._default_manager
    before = rows.of(by.company).filter(key=key).first()
    if before is None:
        made = rows.create(
            company=by.company, at=timezone.now(), by=by.user, key=key, body_hash=told, **fields
        )
        return made, True
    if before.body_hash != told:
        raise other
    return before, False
