"""Where an opening's window stands: the fold of what happened to it, nothing else. Pure."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from projects.quantities.length import Length


class Kind(StrEnum):
    """What can happen to a window."""

    COUNTED = "counted"
    DAMAGED = "damaged"
    ACCEPTED = "accepted"
    SENT_BACK = "sent back"
    TAKEN_BACK = "taken back"


class State(StrEnum):
    """Where it stands, as a person reads it."""

    AWAITED = "not here yet"
    HERE = "here"
    OTHER_SIZE = "another size"
    ANEW = "to be counted anew"
    DAMAGED = "damaged"
    ACCEPTED = "accepted"


@dataclass(frozen=True, slots=True)
class Size:
    """A window by its frame: as its label says, or as the schedule does."""

    width: Length
    height: Length


@dataclass(frozen=True, slots=True)
class Happened:
    """One record. `size` is set where one was counted or accepted, `claim_by` where one was damaged.

    `takes_back` is the number of the record that this one undoes.
    """

    number: int
    kind: Kind
    size: Size | None = None
    claim_by: date | None = None
    takes_back: int | None = None


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a window stands. `came` is its label's size, `claim_by` the first day on which a claim ends."""

    state: State
    came: Size | None = None
    claim_by: date | None = None
    was_sent_back: bool = False


MAY_FOLLOW: Mapping[Kind, Collection[State]] = {
    # a label that was misread is read again; a damaged window is sent back before another one is counted
    Kind.COUNTED: (State.AWAITED, State.HERE, State.OTHER_SIZE, State.ANEW),
    Kind.DAMAGED: (State.HERE, State.OTHER_SIZE, State.ANEW, State.DAMAGED, State.ACCEPTED),
    Kind.ACCEPTED: (State.HERE, State.DAMAGED),
    Kind.SENT_BACK: (State.HERE, State.OTHER_SIZE, State.ANEW, State.DAMAGED, State.ACCEPTED),
}


def still_held(happened: Sequence[Happened]) -> tuple[Happened, ...]:
    """Return what happened and was not taken back, the first first."""
    undone = {each.takes_back for each in happened}
    return tuple(each for each in happened if each.kind is not Kind.TAKEN_BACK and each.number not in undone)


def fold(happened: Sequence[Happened], scheduled: Size) -> Standing:
    """Return where the window stands for an opening of the `scheduled` size.

    A count or an acceptance holds for its own size only: where the schedule changed since, it says so.
    """
    held = still_held(happened)
    if not held:
        return Standing(State.AWAITED)
    own = _of_this_window(held)
    if not own:
        return Standing(State.AWAITED, was_sent_back=True)
    came = next((each.size for each in reversed(own) if each.size is not None), None)
    last = own[-1].kind
    if last is Kind.DAMAGED:
        ends = [each.claim_by for each in own if each.claim_by is not None]
        return Standing(State.DAMAGED, came, min(ends))
    if last is Kind.ACCEPTED:
        return Standing(State.ACCEPTED if came == scheduled else State.ANEW, came)
    return Standing(State.HERE if came == scheduled else State.OTHER_SIZE, came)


def may_follow(standing: Standing, kind: Kind, size: Size | None, scheduled: Size) -> bool:
    """Return whether this may happen to a window that stands so.

    The same label is not counted twice, and nothing is accepted that is not of the scheduled size.
    """
    if standing.state not in MAY_FOLLOW[kind]:
        return False
    if kind is Kind.COUNTED and standing.state is not State.AWAITED:
        return size != standing.came
    if kind is Kind.ACCEPTED:
        return standing.came == scheduled
    return True


def _of_this_window(held: Sequence[Happened]) -> Sequence[Happened]:
    """Return what happened to the window that is there now: all since one was last sent back."""
    gone = [place for place, each in enumerate(held) if each.kind is Kind.SENT_BACK]
    return held[gone[-1] + 1 :] if gone else held
