"""A new version of a company's or a project's specification."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction
from django.db.models import Max

from openings import selectors
from openings.models import SpecificationVersion
from openings.takeoff.settings import apply_settings
from projects.actors import Actor
from projects.models import Project
from projects.rights import Action, require
from projects.services.writing import created, hold, hold_company


@transaction.atomic
def set_specification(
    *,
    by: Actor,
    project: Project | None,
    settings: Mapping[str, str],
    sources: Mapping[str, str] | None = None,
    note: str = "",
) -> SpecificationVersion:
    """Return the new version in force; the last one where nothing differs from it.

    `settings` replace those of the version before, as text by name; `sources` say who stands behind one.
    Raises BadValue where a setting is refused, alone or beside the others.
    """
    require(by, Action.EDIT_SPECIFICATION, *([project] if project else []))
    hold(project) if project else hold_company(by)
    apply_settings(selectors.specification_below(by.company, project), settings)
    rows = SpecificationVersion.objects.of(by.company).filter(project=project)
    last = rows.order_by("-number").first()
    if last and (last.settings, last.sources) == (dict(settings), dict(sources or {})):
        return last
    number = (rows.aggregate(last=Max("number"))["last"] or 0) + 1
    version = SpecificationVersion.objects.create(
        company=by.company,
        project=project,
        number=number,
        settings=dict(settings),
        sources=dict(sources or {}),
        note=note[:200],
        created_by=by.user,
    )
    return created(version, by=by, action="set specification", shown=("number", "settings", "sources"))
