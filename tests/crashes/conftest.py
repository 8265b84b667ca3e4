"""The house of two windows, wanted in a week to come."""

from __future__ import annotations

from tests.materials.orders.conftest import site

__all__ = ["site"]
