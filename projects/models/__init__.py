"""The tables that every other app hangs below."""

from projects.models.audit import AuditEntry
from projects.models.company import Company, Counter, Paper
from projects.models.device import Device
from projects.models.header_match import HeaderMatch
from projects.models.house import UNPLACED, Access, Elevation, House
from projects.models.job import Job
from projects.models.owned import Owned, OwnedRows
from projects.models.people import Membership, Role, User
from projects.models.project import Project

__all__ = [
    "UNPLACED",
    "Access",
    "AuditEntry",
    "Company",
    "Counter",
    "Device",
    "Elevation",
    "HeaderMatch",
    "House",
    "Job",
    "Membership",
    "Owned",
    "OwnedRows",
    "Paper",
    "Project",
    "Role",
    "User",
]
