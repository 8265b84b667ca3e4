"""Making a large week's drafts in the background; a small one's are made at once."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from django.db import transaction

from materials.ordering.solve import told
from materials.selectors.demand import monday_of, openings_in_week
from materials.selectors.pages import losses_shown
from materials.services.drafts import Drafts, make_drafts
from projects import jobs
from projects.actors import Actor
from projects.errors import NotThere
from projects.models import Company, Job, Membership
from projects.rights import Action, require

DRAFTS_KIND = "drafts"
AT_ONCE = 400
"""Openings whose drafts are made while the person waits: about a second's work."""


def drafts_job(company: Company, week: date) -> Job | None:
    """Return the job that makes or made a week's drafts last, None where none was asked for."""
    asked = Job.objects.of(company).filter(kind=DRAFTS_KIND, arguments__week=monday_of(week).isoformat())
    return asked.order_by("-pk").first()


def request_drafts(*, by: Actor, week: date, key: str) -> Job | None:
    """Return the job that makes the drafts of a large week; None for a small one, whose are made at once.

    The form's `key` makes it one job however often it is sent; while one is at work, nobody starts another.
    """
    require(by, Action.ISSUE_ORDERS)
    monday = monday_of(week)
    if openings_in_week(by.company, monday) <= AT_ONCE:
        return None
    at_work = drafts_job(by.company, monday)
    if at_work is not None and at_work.is_open:
        return at_work
    arguments = {"week": monday.isoformat()}
    return jobs.enqueue(by=by, kind=DRAFTS_KIND, arguments=arguments, input_hash=f"{monday}:{key}"[:64])


def carry_out(run: jobs.Run) -> dict[str, list[str]]:
    """Make the drafts that a job is for, as the one who asked, and return what is worth telling about them.

    They stand together or not at all: who stops the job, or kills the worker, finds the week as it was.
    Raises NotThere where who asked has left the company.
    """
    by = Membership.objects.of(run.job.company).filter(user=run.job.created_by, active=True).first()
    if by is None:
        raise NotThere
    week = date.fromisoformat(run.arguments["week"])
    count = openings_in_week(by.company, week)
    run.tell(10, f"Adding up what {count:,} openings need, and where it is cheapest")
    with transaction.atomic():
        drafts = make_drafts(by=by, week=week)
        run.beat()  # raises where somebody stopped it meanwhile: nothing of it is kept
    return {"notices": list(words_of(by.company, drafts))}


def words_of(company: Company, drafts: Drafts) -> Iterator[str]:
    """Yield what to know of new drafts: what comes late or never, what spoils, how many there are."""
    for short in drafts.shortages:
        yield f"{short.material}, needed {told(short.needed)}: {short.reason}"
    for loss in losses_shown(company, drafts.losses):
        spoiled = f"{loss.quantity} of {loss.name}, {loss.source}"
        yield f"{spoiled}, is past its last good day, {told(loss.last_good)}, before it is needed."
    made = len(drafts.orders)
    yield f"{made} draft{'s are' if made != 1 else ' is'} made." if made else "Nothing was left to order."
