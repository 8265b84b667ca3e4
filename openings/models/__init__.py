"""Specifications, openings and imported schedules."""

from openings.models.opening import Opening
from openings.models.schedule import ScheduleImport
from openings.models.specification import SpecificationVersion

__all__ = ["Opening", "ScheduleImport", "SpecificationVersion"]
