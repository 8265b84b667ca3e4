"""Specifications, openings, imported schedules and the roll-up of a house."""

from openings.models.opening import Opening
from openings.models.rollup import HouseRollUp
from openings.models.schedule import ScheduleImport
from openings.models.specification import SpecificationVersion

__all__ = ["HouseRollUp", "Opening", "ScheduleImport", "SpecificationVersion"]
