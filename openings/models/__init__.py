"""Specifications, openings, imported schedules, and what happened to windows."""

from openings.models.opening import Opening
from openings.models.schedule import ScheduleImport
from openings.models.specification import SpecificationVersion
from openings.models.window import WindowEntry, WindowPhoto, WindowRecord

__all__ = [
    "Opening",
    "ScheduleImport",
    "SpecificationVersion",
    "WindowEntry",
    "WindowPhoto",
    "WindowRecord",
]
