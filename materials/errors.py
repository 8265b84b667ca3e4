"""Refusals about demand and orders; their words stand in `projects/messages.py`. Pure."""

from __future__ import annotations

from projects.errors import UserError


class AlreadyIssued(UserError):
    """Somebody issued the order first; it carries who, when and which."""

    code = "already_issued"
    status = 409


class OtherLines(UserError):
    """The same form was sent before with other lines."""

    code = "other_lines"


class ChangedSince(UserError):
    """What was to be taken back was changed by somebody meanwhile."""

    code = "changed_since"
    status = 409


class DraftIsStale(UserError):
    """The houses changed since the draft was made."""

    code = "draft_is_stale"
    status = 409


class IssuedStays(UserError):
    """An issued order was to be changed."""

    code = "issued_stays"
    status = 409


class NoPrices(UserError):
    """The company has no prices, so nothing can be ordered."""

    code = "no_prices"


class NotEnough(UserError):
    """More was to leave a place than lies there."""

    code = "not_enough"
    status = 409


class BadPieces(UserError):
    """A count of pieces below what can be counted there."""

    code = "bad_pieces"


class NotThereYet(UserError):
    """A roll was to be cut that is still to come."""

    code = "not_there_yet"
    status = 409


class NotIssued(UserError):
    """A draft was to be received or sent."""

    code = "not_issued"
    status = 409


class OrderMoved(UserError):
    """What was asked may not happen to an order in its state."""

    code = "order_moved"
    status = 409


class NothingLeft(UserError):
    """An order was to be changed, but nothing of it is needed any more."""

    code = "nothing_left"
    status = 409
