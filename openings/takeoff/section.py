"""Volumes of beads and foam, and the diagonal of a cut, in whole numbers rounded once. Pure."""

from __future__ import annotations

from math import isqrt

from projects.quantities.volume import NM3_PER_PL


def volume_along(section_nm2: int, length_nm: int) -> int:
    """Return section x length in picolitres, rounded once, half up."""
    return (section_nm2 * length_nm + NM3_PER_PL // 2) // NM3_PER_PL


def volume_of_gap(side_nm: int, both_gaps_nm: int, depth_nm: int) -> int:
    """Return side x half of `both_gaps_nm` x depth in picolitres, rounded once, half up."""
    return (side_nm * both_gaps_nm * depth_nm + NM3_PER_PL) // (2 * NM3_PER_PL)


def diagonal_of_square(side_nm: int) -> int:
    """Return sqrt(2) x side in nanometres, rounded once (the identity round(x) = floor(2x + 1) // 2)."""
    return (isqrt(8 * side_nm * side_nm) + 1) // 2
