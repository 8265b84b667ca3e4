"""Whether the table of what fits what can be used; it reads the file by its loader. Pure."""

from __future__ import annotations

from pathlib import Path

from materials.compatibility.load import FILE, load_pairs
from materials.compatibility.table import Part
from projects.errors import BadValue
from projects.problems import Problem


def pair_problems(file: Path = FILE) -> list[Problem]:
    """Return what keeps the table from being used; none where all is well."""
    try:
        table = load_pairs(file)
    except BadValue as error:
        return [Problem(error.problem, error.remedy, value=None if error.value is None else str(error.value))]
    return [
        Problem(f"{file.name} has no kind of {part}.", "Add at least one under [[kind]].", value=part)
        for part in Part
        if not table.of(part)
    ]
