"""In what people count a material on the shelf: rolls, tubes, cans, or pieces out of their box. Pure."""

from __future__ import annotations

from materials.catalogue.material import Material
from materials.catalogue.packaging import Case, Packaging


def counted_in(packaging: Packaging) -> tuple[str, int]:
    """Return the key of what is counted, empty for loose pieces, and how many base units one of them holds.

    A case is counted by what it holds, a box by its pieces: both are opened sooner than the next count.
    """
    if packaging.unit == "pieces":
        return "", 1
    inner = packaging.of if isinstance(packaging, Case) else packaging
    return inner.label.key, inner.contains


def told_count(material: Material, pack: str, pieces: int) -> str:
    """Return a count as people say it: `3 x roll of 75 ft`, `750`."""
    names = {packaging.label.key: packaging.label.name for packaging in material.packs}
    return f"{pieces} x {names.get(pack, pack)}" if pack else f"{pieces}"
