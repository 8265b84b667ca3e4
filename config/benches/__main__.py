"""One bench in this process: `python -m config.benches NAME [--small]` prints its figures as JSON.

`config.benches.apart` starts it, with a database of its own in the environment.
"""

from __future__ import annotations

import json
import sys
from dataclasses import asdict

import django


def main() -> None:
    """Measure, and look at the machine before and after."""
    django.setup()
    from config.benches.machine import slowness
    from config.benches.registry import BENCHES

    name, *options = sys.argv[1:]
    small = "--small" in options
    tries = 1 if small else 5
    before = slowness(tries=tries)
    figures = [asdict(figure) for figure in BENCHES[name](small=small)]
    print(json.dumps({"figures": figures, "slowness": min(before, slowness(tries=tries))}))


if __name__ == "__main__":
    main()
