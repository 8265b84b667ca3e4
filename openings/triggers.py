"""What the database itself refuses about specifications: a version never changes."""

from __future__ import annotations

from projects.triggers import Trigger, append_only

TRIGGERS: tuple[Trigger, ...] = append_only("openings.SpecificationVersion")
