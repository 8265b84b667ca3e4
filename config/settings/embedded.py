"""The embedded default: SQLite and a broker file, nothing to configure."""

from config.settings.base import *  # noqa: F403
