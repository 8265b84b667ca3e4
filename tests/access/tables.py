"""What stands in every table of ours, told so that two runs compare although ids and clocks differ."""

from __future__ import annotations

from typing import Any

from django.apps import apps
from django.db import models

OURS = {"projects", "openings", "materials", "crews", "config"}
# drawn by lot at each write
DRAWN = {"password", "last_login", "request_id", "claim", "file_path"}
State = dict[str, list[tuple[Any, ...]]]


def everything() -> State:
    """Return the rows of each table, every id replaced by its place in its table."""
    known = [model for model in apps.get_models() if model._meta.app_label in OURS]
    places = {model: _places(model) for model in known}
    return {model._meta.label_lower: _rows(model, places) for model in known}


def _places(model: type[models.Model]) -> dict[Any, int]:
    keys = model._default_manager.order_by("pk").values_list("pk", flat=True)
    return {key: place for place, key in enumerate(keys)}


def _rows(
    model: type[models.Model], places: dict[type[models.Model], dict[Any, int]]
) -> list[tuple[Any, ...]]:
    rows = []
    for row in model._default_manager.order_by("pk"):
        rows.append(tuple(_told(row, field, places) for field in model._meta.concrete_fields))
    return rows


def _told(row: models.Model, field: Any, places: dict[type[models.Model], dict[Any, int]]) -> tuple[str, Any]:
    value = getattr(row, field.attname)
    if field.name in DRAWN:
        return field.name, value not in {None, ""} and not str(value).startswith("!")
    if field.primary_key:
        return field.name, places[type(row)][value]
    if field.is_relation and value is not None:
        return field.name, places[field.related_model][value]
    if field.name == "subject_id":
        model = apps.get_model(row.subject_kind)  # type: ignore[attr-defined]
        return field.name, places[model].get(value, "gone")
    return field.name, bytes(value) if isinstance(value, memoryview) else value


def differences(before: State, after: State) -> list[str]:
    """Return what differs, table by table and row by row, in words short enough for a failing test."""
    found = []
    for table in before:
        for one in set(map(repr, before[table])) ^ set(map(repr, after[table])):
            found.append(f"{table}: {one}")
    return sorted(found)
