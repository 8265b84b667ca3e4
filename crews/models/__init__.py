"""Crews, where they work, the weather, the plan of a day, what was done, and what a ladder's day costs."""

from crews.models.crew import Assignment, Crew, CrewMember
from crews.models.day import DayPlan
from crews.models.rental import Rental
from crews.models.weather import Forecast
from crews.models.work import WorkEntry, WorkRecord

__all__ = ["Assignment", "Crew", "CrewMember", "DayPlan", "Forecast", "Rental", "WorkEntry", "WorkRecord"]
