"""Reading openings, specifications and schedules; what each page shows in one call."""

from openings.selectors.pages import (
    HousePage,
    OpeningPage,
    elevation_page,
    house_page,
    opening_page,
    schedule_of,
    specification_history,
)
from openings.selectors.reading import (
    InForce,
    find_house,
    fingerprints,
    geometries_by_house,
    latest_specification,
    live_openings,
    opening_inputs,
    opening_inputs_by_house,
    remembered_match,
    specification_below,
    specification_in_force,
    specifications_by_project,
    specifications_in_force,
)

__all__ = [
    "HousePage",
    "InForce",
    "OpeningPage",
    "elevation_page",
    "find_house",
    "fingerprints",
    "geometries_by_house",
    "house_page",
    "latest_specification",
    "live_openings",
    "opening_inputs",
    "opening_inputs_by_house",
    "opening_page",
    "remembered_match",
    "schedule_of",
    "specification_below",
    "specification_history",
    "specification_in_force",
    "specifications_by_project",
    "specifications_in_force",
]
