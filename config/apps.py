"""The project itself as an app: checks and commands that span the others."""

from django.apps import AppConfig


class ConfigConfig(AppConfig):
    """Registers the checks."""

    name = "config"

    def ready(self) -> None:
        """Import what registers itself."""
        from config import checks  # noqa: F401
