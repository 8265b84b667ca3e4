"""Crews, where they work on which day, the weather, and the plan of a day."""

from crews.models.crew import Assignment, Crew, CrewMember
from crews.models.day import DayPlan
from crews.models.weather import Forecast

__all__ = ["Assignment", "Crew", "CrewMember", "DayPlan", "Forecast"]
