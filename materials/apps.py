"""Materials: what the takeoff comes to, and what is ordered."""

from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    """Makes the kinds of background work known."""

    name = "materials"

    def ready(self) -> None:
        """Register this app's jobs."""
        from materials import tasks  # noqa: F401  # importing it registers them
