"""The app that every other stands on."""

from django.apps import AppConfig
from django.db.models.signals import post_migrate, pre_migrate


class ProjectsConfig(AppConfig):
    """Hangs the triggers on migrations: the only signals there are."""

    name = "projects"

    def ready(self) -> None:
        """Connect the one module that keeps triggers."""
        from projects import triggers

        pre_migrate.connect(triggers.before_migrate, sender=self)
        post_migrate.connect(triggers.after_migrate, sender=self)
