"""`manage.py check` refuses method and material files that can't be used, and says which and why."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from django.core.checks import registry, run_checks

from config.checks import MATERIALS, METHODS, methods_and_catalogue_fit


def copied(folder: Path, to: Path, *, file: str, old: str, new: str) -> Path:
    """Return a copy of a data folder in which `file` says something else."""
    shutil.copytree(folder, to)
    text = (to / file).read_text(encoding="utf-8")
    assert old in text
    (to / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    return to


def test_our_own_files_pass() -> None:
    assert run_checks() == []


def test_the_command_asks_for_methods_and_catalogue() -> None:
    assert methods_and_catalogue_fit in registry.registry.get_checks()


@pytest.mark.parametrize(
    ("file", "old", "new", "says"),
    [
        ("B1.toml", 'grade = "P"', "", "B1.toml: key 'grade'"),
        ("A.toml", 'source = "common practice"', "", "A.toml, lap 2: key 'source'"),
        ("common.toml", 'material = "membrane"', 'material = "tar"', "'tar'"),
        ("A1.toml", '"wrb", "sill strip"', '"sill strip", "wrb"', "'sill strip' before 'wrb'"),
    ],
)
def test_method_file_that_cannot_be_used_is_an_error(
    tmp_path: Path, file: str, old: str, new: str, says: str
) -> None:
    methods = copied(METHODS, tmp_path / "methods", file=file, old=old, new=new)

    (error,) = methods_and_catalogue_fit(None, methods=methods)

    assert error.is_serious()
    assert says in error.msg
    assert error.hint


def test_method_that_names_a_material_nobody_sells_is_an_error(tmp_path: Path) -> None:
    materials = tmp_path / "materials"
    shutil.copytree(MATERIALS, materials)
    (materials / "sealant.toml").unlink()

    told = [error.msg for error in methods_and_catalogue_fit(None, materials=materials)]

    assert "Method B1 names the material 'sealant', which the catalogue has not." in told


def test_price_without_a_source_is_an_error(tmp_path: Path) -> None:
    materials = copied(
        MATERIALS,
        tmp_path / "materials",
        file="foam.toml",
        old='source = "estimate for the demo"',
        new="",
    )

    (error,) = methods_and_catalogue_fit(None, materials=materials)

    assert "foam.toml" in error.msg
    assert "source" in error.msg
