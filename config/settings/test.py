"""Tests: quick password hashing, files of their own, and no worker unless a test starts one."""

import os

from config.environment import SQLITE, broker
from config.settings.base import *  # noqa: F403
from config.settings.base import DATABASES, VAR

# by process: two runs in one checkout do not share a database
TEST_FILES = VAR / "test" / str(os.getpid())
SECRET_KEY = "only-for-tests-" + "x" * 40
SITE_URL = ""
ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
MEDIA_ROOT = TEST_FILES / "media"
EMAIL_FILE_PATH = str(TEST_FILES / "mail")
WHITENOISE_USE_FINDERS = True
if DATABASES["default"]["ENGINE"] == SQLITE:
    # a file, as in life: threads and a real worker share it
    DATABASES["default"]["TEST"] = {"NAME": TEST_FILES / "lapwise.sqlite3"}
CELERY_BROKER_URL = broker(TEST_FILES / "broker.sqlite3")
CELERY_TASK_DEFAULT_QUEUE = f"lapwise-test-{os.getpid()}"
# a test's transaction holds the only writer's place; a second connection would wait for it
JOB_HEARTBEAT_SECONDS = 0
