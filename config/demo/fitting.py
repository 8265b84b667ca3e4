"""The demo's kinds in use, who answers for which pair, and the makers' instruction sheets."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from config.demo.files import instruction
from config.demo.people import Cast
from materials import services
from materials.selectors.orders import local_today
from projects.models import Project


def say_what_is_used(cast: Cast, told: Mapping[str, Any]) -> None:
    """Set the kinds of `told` (`fitting.toml`) and let people answer for pairs."""
    projects = {project.code: project for project in Project.objects.of(cast.company)}
    services.set_kinds(by=cast.manager, project=None, kinds=told["usual"]["kinds"])
    for row in told["projects"]:
        services.set_kinds(by=cast.manager, project=projects[row["project"]], kinds=row["kinds"])
    for row in told["taken"]:
        services.take_on_pair(
            by=cast.manager,
            project=projects[row["project"]],
            one=row["one"],
            other=row["other"],
            person=row["person"],
            reason=row["reason"],
        )


def attach_sheets(cast: Cast, told: Mapping[str, Any]) -> int:
    """Attach the sheets of `told` (`fitting.toml`); return how many there are."""
    today = local_today(cast.company)
    added = [
        services.add_sheet(
            by=cast.manager,
            material=material,
            title=row["title"],
            dated=today - timedelta(days=row["days_ago"]),
            content=instruction(row["file"]),
            exposure_days=row.get("exposure_days"),
        )
        for row in told["sheets"]
        for material in row["materials"]
    ]
    return len(added)
