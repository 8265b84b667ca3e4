"""A window that changed after its order: what to order, what is too much; worked by hand.

The order covers W1 36 x 60 and W2 24 x 36, see `test_golden.py`.
"""

from __future__ import annotations

from math import pi

import pytest

from materials import services
from materials.errors import DraftIsStale
from materials.models import Coverage, PurchaseOrder
from materials.selectors.growth import growth_of
from openings.services import remove_opening
from projects.quantities.length import Length
from projects.quantities.volume import Volume
from tests.materials.orders.building import bought, issue

pytestmark = pytest.mark.django_db
WASTE = 1.15


def inches(nm: int) -> float:
    return Length(nm).in_inches


def cubic_inches(pl: int) -> float:
    return Volume(pl).in_cubic_inches


def told(order) -> dict[str, tuple[int, int]]:
    return {each.material: (each.to_order, each.surplus) for each in growth_of(order).differences}


def test_unchanged_houses_have_no_difference(site):
    order = site.issued()

    growth = growth_of(order)

    assert (growth.differences, growth.wanted, dict(growth.lacking)) == ((), (), {})
    assert services.order_difference(by=site.by, order=order).orders == ()
    assert PurchaseOrder.objects.count() == 1


def test_window_that_grew_lacks_the_longer_strips_whole(site):
    order = site.issued()
    site.widen("W1", 48)

    found = told(order)

    # sill and head 48.5 + 18 = 66.5 twice; the two of 54.5 are too short and left over; jambs serve
    assert [inches(nm) for nm in found["membrane-9in"]] == [133, 109]
    # pan 48.5 + 12 = 60.5; the one of 48.5 is left over
    assert [inches(nm) for nm in found["membrane-12in"]] == [60.5, 48.5]
    # back bead 12 longer at head and sill
    to_order, surplus = found["sealant"]
    assert cubic_inches(to_order) == pytest.approx(24 * pi / 16 * WASTE, abs=1e-6)
    assert surplus == 0
    # span 42: 5 screws instead of 4, at head and sill
    assert found["screw-2in"] == (2, 0)
    # sill ceil(40 / 15) + 1 = 4 points instead of 3
    assert found["shims"] == (2, 0)
    # 12 longer at the head x 1/4 x 1 1/2, at the sill x 1/4 x 3/4
    assert cubic_inches(found["foam"][0]) == pytest.approx(4.5 + 2.25, abs=1e-6)
    assert set(found) == {"membrane-9in", "membrane-12in", "sealant", "screw-2in", "shims", "foam"}


def test_difference_orders_only_what_the_packs_do_not_hold(site):
    order = site.issued()
    site.widen("W1", 48)

    (difference,) = services.order_difference(by=site.by, order=order).orders

    assert bought(difference) == {
        # 2 x 66.5 = 133 in
        "membrane-9in": (1, "roll-50ft", "29.00"),
        "membrane-12in": (1, "roll-50ft", "40.00"),
        # 324 in x pi / 16 x 1.15 = 73.16 in3; four cartridges hold 72.91
        "sealant": (1, "cartridge-10.1oz", "9.00"),
        # screws 36 of 500, shims 34 of 50, foam of one can: the packs suffice
    }
    assert difference.total_cents == 78_00
    covers = Coverage.objects.filter(line__order=difference)
    assert set(covers.values_list("opening__mark", "round")) == {("W1", 2)}
    membrane = covers.get(material="membrane-9in")
    assert membrane.pieces == {str(Length.inches(66.5).nm): 2}


def test_ordering_the_difference_twice_orders_it_once(site):
    order = site.issued()
    site.widen("W1", 48)
    services.order_difference(by=site.by, order=order)

    again = services.order_difference(by=site.by, order=order)

    assert again.orders == ()
    assert PurchaseOrder.objects.count() == 2
    # what is short in packs was ordered; what the packs hold stays told
    assert told(order)["membrane-9in"][0] == 0
    assert told(order)["screw-2in"] == (2, 0)


def test_difference_is_issued_as_an_order_of_its_own(site):
    first = site.issued()
    site.widen("W1", 48)
    (difference,) = services.order_difference(by=site.by, order=first).orders

    second = issue(difference, by=site.by, key="form-2")

    first.refresh_from_db()
    assert first.total_cents == 189_90
    assert [order.number[-3:] for order in (first, second)] == ["001", "002"]


def test_difference_is_stale_once_the_window_shrank_back(site):
    order = site.issued()
    site.widen("W1", 48)
    (difference,) = services.order_difference(by=site.by, order=order).orders
    site.widen("W1", 36)

    with pytest.raises(DraftIsStale):
        issue(difference, by=site.by, key="form-2")

    difference.refresh_from_db()
    assert difference.number is None


def test_second_growth_counts_what_the_packs_of_both_orders_hold(site):
    order = site.issued()
    site.widen("W1", 48)
    (second,) = services.order_difference(by=site.by, order=order).orders
    issue(second, by=site.by, key="form-2")
    site.widen("W1", 60)

    (third,) = services.order_difference(by=site.by, order=order).orders

    assert bought(third) == {
        # 60.5 + 18 = 78.5 twice: longer than all that is there
        "membrane-9in": (1, "roll-50ft", "29.00"),
        # 60.5 + 12 = 72.5
        "membrane-12in": (1, "roll-50ft", "40.00"),
        # 348 in: 78.58 in3 of the 91.14 in five cartridges
    }


def test_window_that_shrank_leaves_a_surplus_and_nothing_to_order(site):
    order = site.issued()
    site.widen("W1", 24)

    found = told(order)

    # sill and head 42.5 each, cut from those of 54.5: 2 x 12
    assert [inches(nm) for nm in found["membrane-9in"]] == [0, 24]
    # pan 36.5 from the one of 48.5
    assert [inches(nm) for nm in found["membrane-12in"]] == [0, 12]
    # back bead 12 shorter at head and sill
    assert cubic_inches(found["sealant"][1]) == pytest.approx(24 * pi / 16 * WASTE, abs=1e-6)
    # span 18: 3 screws instead of 4, at head and sill
    assert found["screw-2in"] == (0, 2)
    # the sill keeps its three points: ceil(16 / 15) + 1 = 3
    assert "shims" not in found
    assert all(to_order == 0 for to_order, _ in found.values())
    assert services.order_difference(by=site.by, order=order).orders == ()
    assert PurchaseOrder.objects.count() == 1


def test_window_that_is_gone_is_all_surplus(site):
    order = site.issued()
    remove_opening(by=site.by, opening=site.opening("W2"))

    found = told(order)

    # W2: 2 x 42.5 + 2 x 53.5 = 192 of membrane, 14 screws, 14 shims, two pan corners
    assert [inches(nm) for nm in found["membrane-9in"]] == [0, 192]
    assert (found["screw-2in"], found["shims"], found["pan-corner"]) == ((0, 14), (0, 14), (0, 2))


def test_one_window_grows_by_what_another_gives_back(site):
    order = site.issued()
    # W2 to 36 wide: 14 -> 16 screws; W1 to 24 wide: 20 -> 18
    site.widen("W2", 36)
    site.widen("W1", 24)

    assert "screw-2in" not in told(order)


def test_draft_has_no_difference(site):
    draft = site.draft()
    site.widen("W1", 48)

    assert services.order_difference(by=site.by, order=draft).orders == ()
    assert PurchaseOrder.objects.count() == 1
