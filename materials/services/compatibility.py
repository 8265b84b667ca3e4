"""Which kinds a project uses, and who answers by name for two of them that are not known to fit."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone

from materials.compatibility.load import load_pairs
from materials.models import PairTaken, UsedKinds
from materials.selectors.compatibility import pairs_of
from projects.actors import Actor
from projects.errors import Archived, BadValue
from projects.models import Project
from projects.rights import Action, require
from projects.services.writing import hold, hold_company, record
from projects.texts import clean_text


@transaction.atomic
def set_kinds(
    *, by: Actor, project: Project | None, kinds: Iterable[str], version: int | None = None
) -> UsedKinds:
    """Return what a project uses, with None what the company usually uses; a project without follows it.

    A kind that stays keeps since when it is in use. Raises BadValue for an unknown kind, StaleVersion where
    somebody changed it since `version` (0: where there was none), Archived.
    """
    require(by, Action.JUDGE_PAIRS, *([project] if project else []))
    table = load_pairs()
    chosen = sorted({table.kind(key).key for key in kinds})
    if project is not None and project.archived:
        raise Archived(what=str(project))
    hold_company(by)
    row = UsedKinds.objects.of(by.company).filter(project=project).first()
    if row is None:
        row = UsedKinds.objects.create(
            company=by.company, project=project, kinds=dict.fromkeys(chosen, 1), version=1
        )
        record(by=by, action="set used kinds", subject=row, after={"kinds": chosen})
        return row
    row = hold(row, version=version)
    before = sorted(row.kinds)
    if before != chosen:
        row.version += 1
        row.kinds = {key: row.kinds.get(key, row.version) for key in chosen}
        row.save(update_fields=["kinds", "version"])
        record(by=by, action="set used kinds", subject=row, before={"kinds": before}, after={"kinds": chosen})
    return row


@transaction.atomic
def take_on_pair(*, by: Actor, project: Project, one: str, other: str, person: str, reason: str) -> PairTaken:
    """Return the record that `person` answers for two kinds on a project; asked twice it is written once.

    Raises BadValue where the two are not used together there, or are known to fit, or a text is empty.
    """
    require(by, Action.JUDGE_PAIRS, project)
    if project.archived:
        raise Archived(what=str(project))
    name = clean_text(person, field="person", what="Name", longest=120)
    why = clean_text(reason, field="reason", what="Reason", longest=300)
    hold_company(by)
    shown = pairs_of(by.company, [project])[project.pk]
    pair = next((pair for pair in shown.pairs if pair.judged.keys == (one, other)), None)
    if pair is None or shown.used is None or pair.judged.fits:
        raise BadValue(
            problem="Nobody has to answer for these two on this project.",
            remedy="Look at the project's list: it may have changed.",
        )
    if pair.taken is not None:
        return pair.taken
    row = PairTaken.objects.create(
        company=by.company,
        project=project,
        used=shown.used,
        version=shown.used.version,
        one=one,
        other=other,
        answer=str(pair.judged.answer),
        person=name,
        reason=why,
        at=timezone.now(),
        by=by.user,
    )
    after = {"project": project.code, "answer": row.answer, "person": name, "reason": why}
    record(by=by, action="take on pair", subject=row, after=after)
    return row
