"""What the shop buys: unbranded materials by key, each with its size, packs, grade and source. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from materials.catalogue.packaging import Packaging, Unit
from openings.methods.method import Grade
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.volume import NM3_PER_PL, Area, Volume


@dataclass(frozen=True, slots=True)
class Material:
    """One material. `meets` is the word by which methods and takeoff ask for it.

    `size` tells materials of one word apart: width of membrane or tape, length of screw, diameter of rod.
    `film` is how thick it is spread, where it is bought by volume and needed by area.
    """

    key: str
    name: str
    meets: str
    unit: Unit
    grade: Grade
    source: str
    packs: tuple[Packaging, ...]
    size: Length | None = None
    film: Length | None = None

    def pack(self, key: str) -> Packaging:
        """Return the pack with `key`. Raises BadValue where there is none."""
        for packaging in self.packs:
            if packaging.label.key == key:
                return packaging
        raise BadValue(
            problem=f"{self.name} is not sold as {key!r}.",
            remedy=f"Use one of: {', '.join(packaging.label.key for packaging in self.packs)}.",
            value=key,
        )

    def volume_on(self, area: Area) -> Volume:
        """Return what covers `area`, rounded up. Raises BadValue where the material is not spread."""
        if self.film is None:
            raise BadValue(
                problem=f"{self.name} is not spread on an area.", remedy="Give its coverage.", value=self.key
            )
        return Volume(-(-area.nm2 * self.film.nm // NM3_PER_PL))


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All materials by key. Words: `by_others` somebody else brings, `together` several materials meet."""

    materials: Mapping[str, Material]
    by_others: tuple[str, ...] = ()
    together: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def material(self, key: str) -> Material:
        """Return the material with `key`. Raises BadValue where there is none."""
        if key not in self.materials:
            raise BadValue(
                problem=f"{key!r} is no material of the catalogue.",
                remedy=f"Use one of: {', '.join(self.materials)}.",
                value=key,
            )
        return self.materials[key]

    def met_by(self, word: str, size: Length | None = None) -> Material | None:
        """Return the material that meets `word` in that size, None where the catalogue has none."""
        for material in self.materials.values():
            if material.meets == word and (material.size is None or material.size == size):
                return material
        return None

    def knows(self, word: str) -> bool:
        """Return whether somebody brings what `word` asks for, in any size."""
        words = {material.meets for material in self.materials.values()}
        asked = self.together.get(word, (word,))
        return word in self.by_others or all(each in words for each in asked)
