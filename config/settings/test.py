"""Tests."""

from config.settings.base import *  # noqa: F403
