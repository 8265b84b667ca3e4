"""Asking for the list of what lies open, as a builder gets it on paper."""

from __future__ import annotations

import hashlib

from crews.selectors.covering import CoverPage, cover_page
from projects import jobs
from projects.actors import Actor
from projects.models import Job, Project
from projects.printing import printed_hash
from projects.rights import Action, require

COVER_KIND = "cover-list-pdf"


def request_cover_list(*, by: Actor, project: Project) -> Job:
    """Return the job that draws a project's list as it stands today: a new one, or the one that did."""
    require(by, Action.SEE_PLAN, project)
    page = cover_page(by.company, project=project)
    return jobs.enqueue(
        by=by,
        kind=COVER_KIND,
        arguments={"project": project.pk},
        input_hash=cover_hash(project, page),
    )


def cover_hash(project: Project, page: CoverPage) -> str:
    """Return what the paper is drawn from: the day, the project, and each line of its list."""
    lines = [
        (face.elevation.house.code, face.elevation.name, face.last_day, face.limit)
        for face in page.faces
        if face.elevation.house.project_id == project.pk
    ]
    read = (project.pk, project.name, project.builder, page.today, lines)
    return printed_hash(project.company, hashlib.sha256(repr(read).encode()).hexdigest())
