"""`python -m tests.crashes.writer`: a process that issues orders and receives them until it is killed.

Each line on standard input starts such a process; it says its number, then the key of each form that was
acknowledged, once that is so. When it is gone a dot is said. The company is the first one of the database.
"""

from __future__ import annotations

import os
import sys


def main() -> None:
    import django

    django.setup()
    import tests.factories.orders  # noqa: F401  # read once, not by each that is killed
    from materials import services  # noqa: F401

    for _ in sys.stdin:
        number = os.fork()
        if number == 0:
            write()
        say(f"pid {number}")
        os.waitpid(number, 0)
        say(".")


def say(line: str) -> None:
    os.write(1, f"{line}\n".encode())


def write() -> None:
    from materials import services
    from materials.models import OrderLine, Supplier
    from projects.models import Membership
    from tests.factories.orders import DraftFactory
    from tests.materials.orders.building import issue

    by = Membership.objects.select_related("company", "user").earliest("pk")
    supplier = Supplier.objects.earliest("pk")
    while True:
        draft = DraftFactory(company=by.company, supplier=supplier)
        key = f"form-{draft.pk}-{os.getpid()}"
        order = issue(draft, by=by, key=key)
        say(f"issued {key}")
        came = [services.Came(OrderLine.objects.get(order=order).pk, good=1)]
        services.receive_delivery(by=by, order=order, came=came, key=key)
        say(f"received {key}")


if __name__ == "__main__":
    main()
