"""The way back from everything that can be done: one line for each address that takes a form.

`by` names the address that undoes it, `after` the document or record that sets it right afterwards, `keeps`
why there is nothing to take back.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Way:
    """How a person gets back from one action; `routes` are the addresses that it takes."""

    told: str
    routes: tuple[str, ...] = ()


def by(*routes: str, told: str = "as it was") -> Way:
    return Way(told, routes)


def after(told: str, *routes: str) -> Way:
    return Way(told, routes)


def keeps(told: str) -> Way:
    return Way(told)


_FORM = "the same form, which shows what stands; the record of changes keeps what was"
_DRAWN = "a paper or plan is made from what stands and changes none of it"
_RECORD = "a record beside the first, which stays in the history"

WAYS_BACK: dict[str, Way] = {
    # crews
    "assign": by("assignment-withdraw", "assignment-move"),
    "assignment-earlier": after("the other elevation goes earlier by the same button", "assignment-earlier"),
    "assignment-move": by("assignment-move"),
    "assignment-withdraw": by("assign"),
    "cover-paper": keeps(_DRAWN),
    "crew-archive": by("crew-restore"),
    "crew-create": by("crew-archive"),
    "crew-edit": by("crew-edit", told=_FORM),
    "crew-restore": by("crew-archive"),
    "crew-used": after("a correction of the lots; the ledger keeps both", "lot-correct"),
    "face-cover": by("face-uncover"),
    "face-uncover": by("face-cover"),
    "forecast": by("forecast", told=_FORM),
    "member-create": by("member-remove"),
    "member-edit": by("member-edit", told=_FORM),
    "member-remove": by("member-restore"),
    "member-restore": by("member-remove"),
    "member-wage": by("member-wage", told=_FORM),
    "rentals": by("rentals", told=_FORM),
    "sheet-make": keeps(_DRAWN),
    "work-done": by("work-take-back", told=_RECORD),
    "work-take-back": after("the same steps once more", "work-done"),
    # materials
    "cut-list-day-make": keeps("cut rolls stay; what is not cut is laid out anew from the same strips"),
    "cut-list-house-make": keeps("cut rolls stay; what is not cut is laid out anew from the same strips"),
    "cut-list-order-make": keeps("cut rolls stay; what is not cut is laid out anew from the same strips"),
    "cut-list-papers": keeps(_DRAWN),
    "cut-roll": after("a correction of the lot puts the roll back and takes the rest away", "lot-correct"),
    "instruction-new": by("instruction-withdraw"),
    "instruction-restore": by("instruction-withdraw"),
    "instruction-withdraw": by("instruction-restore"),
    "lot-correct": after("another correction; the ledger keeps both", "lot-correct"),
    "lot-take": after("a correction of the lot; the ledger keeps both", "lot-correct"),
    "need-dates": by("need-dates-back"),
    "need-dates-back": by("need-dates"),
    "offcut-new": after("a correction of its lot", "lot-correct"),
    "order-acknowledge": after("a cancellation, if the promise does not suit", "order-cancel"),
    "order-cancel": after("new drafts: its demand is open again", "order-week-drafts"),
    "order-change": by("order-discard"),
    "order-difference": by("order-discard"),
    "order-discard": by("order-week-drafts", "order-change"),
    "order-issue": after("an order that changes it, or its cancellation", "order-change", "order-cancel"),
    "order-pdf": keeps(_DRAWN),
    "order-receive": after("a correction of the lots that came; the delivery stays as told", "lot-correct"),
    "order-send": after("a cancellation or a change order, sent too", "order-cancel", "order-change"),
    "order-week-drafts": by("order-discard"),
    "pair-take": after("another name or answer on the same page; both stay in the record", "pair-take"),
    "price-add": by("price-back"),
    "price-back": by("price-add"),
    "price-list": keeps("a preview writes nothing"),
    "price-list-load": after("the list sent again with the right prices; orders keep theirs", "price-list"),
    "project-kinds": by("project-kinds", told=_FORM),
    "sheet-age": by("sheet-age", told=_FORM),
    "splice-forbid": by("splices"),
    "splices": by("splice-forbid"),
    "stock-count": after("another count; the ledger keeps both", "stock-count"),
    "stock-level": by("stock-level-back"),
    "stock-level-back": by("stock-level"),
    "stock-new": after("a correction of its lot", "lot-correct"),
    "supplier-add": by("supplier-edit", told="a supplier without prices is asked for nothing"),
    "supplier-edit": by("supplier-edit", told=_FORM),
    "usual-kinds": by("usual-kinds", told=_FORM),
    # openings
    "elevation": by("elevation", told=_FORM),
    "house-copy": by("house-archive"),
    "opening-create": by("opening-remove"),
    "opening-edit": by("opening-edit", told=_FORM),
    "opening-remove": by("opening-restore"),
    "opening-restore": by("opening-remove"),
    "project-specification": after("a further version; each stays as it was", "project-specification"),
    "schedule-confirm": after("the openings' own pages, or the schedule before sent again", "schedule-send"),
    "schedule-match": by("schedule-match", told=_FORM),
    "schedule-put-away": by("schedule-send", told="the house is as it was; the file can be sent again"),
    "schedule-send": by("schedule-put-away"),
    "specification": after("a further version; each stays as it was", "specification"),
    "window-damage": by("window-take-back", told=_RECORD),
    "window-label": by("window-take-back", told=_RECORD),
    "window-send-back": by("window-take-back", told=_RECORD),
    "window-take-back": after("the same record once more", "windows-count", "windows-accept"),
    "windows-accept": by("window-take-back", told=_RECORD),
    "windows-count": by("window-take-back", told=_RECORD),
    # projects
    "appearance": by("appearance"),
    "choose-password": by("password"),
    "company": by("company", told=_FORM),
    "company-switch": by("company-switch"),
    "device-end": by("sign-in", told="whoever was signed out signs in again"),
    "house-archive": by("house-restore"),
    "house-create": by("house-archive"),
    "house-edit": by("house-edit", told=_FORM),
    "house-restore": by("house-archive"),
    "job-cancel": by("job-retry"),
    "job-retry": by("job-cancel"),
    "kept-entry-drop": keeps("the entry was sent or is not wanted; nothing of it was saved"),
    "password": by("password"),
    "person": by("person", told=_FORM),
    "person-end": by("person-restore"),
    "person-invite": by("person-end"),
    "person-link": keeps("the link before ends, a further one can be made"),
    "person-restore": by("person-end"),
    "person-sign-out": by("sign-in", told="whoever was signed out signs in again"),
    "project-archive": by("project-restore"),
    "project-create": by("project-archive"),
    "project-edit": by("project-edit", told=_FORM),
    "project-restore": by("project-archive"),
    "sign-in": by("sign-out"),
    "sign-out": by("sign-in"),
}
