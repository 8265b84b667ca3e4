"""Whether methods, takeoff and catalogue fit together; it reads their files by their loaders. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from materials.catalogue.load import FOLDER, load_catalogue
from materials.catalogue.material import Catalogue
from materials.catalogue.meet import WORDS
from openings.methods.load import FOLDER as METHODS
from openings.methods.load import load_methods
from openings.methods.method import Method
from openings.takeoff.rules.registry import RULES
from projects.errors import BadValue
from projects.problems import Problem


def catalogue_problems(folder: Path = FOLDER, *, methods: Path = METHODS) -> list[Problem]:
    """Return what keeps methods, takeoff and catalogue apart; none where all fits.

    A method that can't be read, a material without grade or source, and a method that names an unknown
    material are such problems.
    """
    try:
        catalogue, known = load_catalogue(folder), load_methods(methods)
    except BadValue as error:
        return [Problem(error.problem, error.remedy, value=None if error.value is None else str(error.value))]
    return [*unknown_materials(known, catalogue), *unmet_parts(catalogue)]


def unknown_materials(methods: Mapping[str, Method], catalogue: Catalogue) -> Iterable[Problem]:
    """Yield each material that a method names and nobody brings."""
    for method in methods.values():
        named = {
            material
            for layer in method.layers
            for material in (layer.material, *(other for _, other in layer.other_materials))
        }
        for material in sorted(named):
            if not catalogue.knows(material):
                yield Problem(
                    f"Method {method.code} names the material {material!r}, which the catalogue has not.",
                    "Add the material, or correct the method's file.",
                    value=material,
                )


def unmet_parts(catalogue: Catalogue) -> Iterable[Problem]:
    """Yield each part of the takeoff that no material meets in any size."""
    for needed in sorted({stated.need[:2] for rule in RULES for stated in rule.states}):
        word = WORDS.get(needed)
        if word is None or not catalogue.knows(word):
            yield Problem(
                f"The takeoff's {needed[1]} is met by no material.",
                "Add the material, or name its word in materials/catalogue/meet.py.",
                value=needed[1],
            )
