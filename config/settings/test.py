"""Tests: quick password hashing, files below var/test, and no worker unless a test starts one."""

from config.settings.base import *  # noqa: F403
from config.settings.base import VAR

SECRET_KEY = "only-for-tests-" + "x" * 40
ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
MEDIA_ROOT = VAR / "test" / "media"
WHITENOISE_USE_FINDERS = True
# a test's transaction holds the only writer's place; a second connection would wait for it
JOB_HEARTBEAT_SECONDS = 0
