"""Loading a supplier's price list: all of it or nothing."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from materials.models import Supplier
from materials.pricelist.compare import Compared
from materials.services.prices import set_price
from projects.actors import Actor
from projects.quantities.money import Money
from projects.rights import Action, require
from projects.services.writing import record

PUBLISHED = "P"


@transaction.atomic
def load_price_list(*, by: Actor, supplier: Supplier, prices: Iterable[Compared], name: str) -> int:
    """Set every price that is new or changed and return how many; `name` says where they come from.

    Prices of earlier days stay, and so does what orders were made with. Sent twice it changes nothing.
    """
    require(by, Action.EDIT_PRICES, supplier)
    loaded = 0
    for each in prices:
        if each.standing == "same":
            continue
        loaded += 1
        set_price(
            by=by,
            supplier=supplier,
            material=each.listed.material,
            pack=each.listed.pack,
            price=Money(each.listed.cents, by.company.currency),
            valid_from=each.day,
            breaks=each.listed.breaks,
            grade=PUBLISHED,
            source=each.listed.source or name,
        )
    if loaded:
        record(
            by=by, action="load price list", subject=supplier, after={"prices": loaded, "file": name[:200]}
        )
    return loaded
