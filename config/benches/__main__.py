"""One bench in this process: `python -m config.benches NAME [--small]` prints its figures as JSON.

`config.benches.apart` starts it, with a database of its own in the environment.
"""

from __future__ import annotations

import json
import sys
from dataclasses import asdict

import django


def main() -> None:
    """Measure."""
    django.setup()
    from config.benches.registry import BENCHES

    name, *options = sys.argv[1:]
    print(json.dumps([asdict(figure) for figure in BENCHES[name](small="--small" in options)]))


if __name__ == "__main__":
    main()
