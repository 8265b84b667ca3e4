"""Crews, where they work on which day, the weather, the plan of a day, and what a ladder's day costs."""

from crews.models.crew import Assignment, Crew, CrewMember
from crews.models.day import DayPlan
from crews.models.rental import Rental
from crews.models.weather import Forecast

__all__ = ["Assignment", "Crew", "CrewMember", "DayPlan", "Forecast", "Rental"]
