"""The web server's way in."""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.wsgi import get_wsgi_application

GUNICORN_STOPS = 3  # the code with which the web server gives up

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings.embedded")
try:
    application = get_wsgi_application()
    from config.checks import refuse_unsafe_database

    refuse_unsafe_database()
except ImproperlyConfigured as reason:
    sys.stderr.write(f"{reason}\n")
    sys.exit(GUNICORN_STOPS)
