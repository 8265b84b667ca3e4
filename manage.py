#!/usr/bin/env python3
"""Django's command line; the embedded default needs no environment."""

import os
import sys


def main() -> None:
    """Run one management command."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings.embedded")
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as reason:
        sys.exit(str(reason))


if __name__ == "__main__":
    main()
