"""The app of crews, their days and their costs."""

from django.apps import AppConfig


class CrewsConfig(AppConfig):
    """Makes the kinds of background work known wherever jobs are asked for or carried out."""

    name = "crews"

    def ready(self) -> None:
        """Register the tasks."""
        from crews import tasks  # noqa: F401  # importing it registers them
