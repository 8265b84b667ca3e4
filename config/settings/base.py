"""Settings that hold however the application runs."""

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
VAR = ROOT / "var"
SECRET_KEY = "development-only"  # noqa: S105
INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "projects",
    "openings",
    "materials",
    "crews",
    "config",
]
DATABASES = {"default": {"ENGINE": "django.db.backends.sqlite3", "NAME": VAR / "lapwise.sqlite3"}}
AUTH_USER_MODEL = "projects.User"
USE_TZ = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
