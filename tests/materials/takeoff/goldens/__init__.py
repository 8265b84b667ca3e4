"""Four openings, one per method, worked by hand term by term before any code ran."""

from tests.materials.takeoff.goldens.golden import Golden
from tests.materials.takeoff.goldens.method_a import A1, A
from tests.materials.takeoff.goldens.method_b import B1, B

GOLDENS = {"A": A, "A1": A1, "B": B, "B1": B1}

__all__ = ["GOLDENS", "A", "Golden"]
