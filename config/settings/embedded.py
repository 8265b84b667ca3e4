"""The embedded default: SQLite and a broker file in var/, nothing to configure."""

from config.environment import env, kept_secret
from config.settings.base import *  # noqa: F403
from config.settings.base import VAR

SECRET_KEY = kept_secret(VAR / "secret-key")
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=["localhost", "127.0.0.1", "[::1]"])
# no collecting step: whitenoise reads the files where they lie
WHITENOISE_USE_FINDERS = True
