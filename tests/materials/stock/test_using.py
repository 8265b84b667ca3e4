"""What a crew used at a house: taken where it lies, booked at the house, answered for there."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
import time_machine
from django.urls import reverse

from config.invariants import stock as invariants
from materials import services
from materials.errors import BadPieces, NotEnough, OtherLines
from materials.models import Movement
from materials.selectors.houses import house_lines, to_use
from materials.services import Used, ledger
from projects.errors import BadValue, NotAllowed, NotThere
from tests.factories.houses import HouseFactory
from tests.factories.people import MembershipFactory
from tests.materials.stock.building import JUNE, TUBE, key, shop, there, told, tubes

pytestmark = pytest.mark.django_db
WEDNESDAY = datetime(2026, 6, 10, 14, tzinfo=UTC)


@pytest.fixture
def house(company):
    return HouseFactory(project__company=company, code="LOT-1")


def use(by, house, pieces, *, form="evening", material="sealant", size=TUBE):
    used = [Used(material, size, pieces)]
    return services.use_at_house(by=by, house=house, truck="RED", used=used, key=form)


def on_the_truck(by, lot, pieces):
    truck = services.make_place(by=by, kind="truck", name="RED")
    services.move_lot(by=by, lot=lot, place=shop(by), to=truck, pieces=pieces, key=key())
    return truck


def test_the_truck_is_emptied_before_the_shop_and_all_of_it_passes_the_house(foreman, manager, house):
    lot = tubes(manager, 12)
    truck = on_the_truck(manager, lot, 3)

    use(foreman, house, 5)

    # 12 in the shop, 3 of them on the truck; 5 used: 3 of the truck's, 2 of the shop's
    here = ledger.house_of(manager, house)
    assert [there(lot, place) for place in (shop(manager), truck, here)] == [7, 0, 0]
    assert told(lot)[3:] == [
        ("move", -3, 0), ("move", 3, 3), ("use", -3, 0),
        ("move", -2, 7), ("move", 2, 2), ("use", -2, 0),
    ]  # fmt: skip
    (line,) = house_lines(house.company, house)
    assert (line.came, line.used, line.lost, line.here) == (5, 5, 0, 0)
    assert line.name == "Window sealant, cartridge of 10.1 fl oz"


def test_what_lies_at_the_house_goes_first_and_what_is_left_or_scrapped_is_told(foreman, manager, house):
    lot = tubes(manager, 12)
    here = ledger.house_of(manager, house)
    services.move_lot(by=manager, lot=lot, place=shop(manager), to=here, pieces=6, key=key())
    services.take_from_lot(by=manager, lot=lot, place=here, kind="scrap", pieces=1, key=key())

    use(foreman, house, 3)

    # 6 came, 1 was scrapped, 3 used, so 2 lie there
    (line,) = house_lines(house.company, house)
    assert (line.came, line.used, line.lost, line.here) == (6, 3, 1, 2)
    assert there(lot, shop(manager)) == 6


def test_first_to_expire_goes_first_and_what_is_past_its_day_is_left(foreman, manager, house):
    with time_machine.travel(WEDNESDAY):
        past = tubes(manager, 4, last_good=JUNE[9])
        keeps = tubes(manager, 4)
        late = tubes(manager, 4, last_good=JUNE[30])
        soon = tubes(manager, 4, last_good=JUNE[10])

        use(foreman, house, 6)

        assert [there(lot, shop(manager)) for lot in (past, soon, late, keeps)] == [4, 0, 2, 4]
        with pytest.raises(NotEnough) as refused:
            use(foreman, house, 7, form="too much")
        assert refused.value.parameters["there"] == 6
        assert [there(lot, shop(manager)) for lot in (past, soon, late, keeps)] == [4, 0, 2, 4]


def test_a_form_sent_twice_counts_once_and_with_something_else_is_refused(foreman, manager, house):
    lot = tubes(manager, 12)
    first = use(foreman, house, 2)

    assert use(foreman, house, 2) == first
    with pytest.raises(OtherLines):
        use(foreman, house, 3)
    assert there(lot, shop(manager)) == 10


def test_nothing_less_than_nothing_and_others_houses_are_refused(foreman, hand, manager, house):
    tubes(manager, 12)
    with pytest.raises(BadValue):
        services.use_at_house(by=foreman, house=house, truck="RED", used=[], key="empty")
    with pytest.raises(BadPieces):
        use(foreman, house, 0)
    with pytest.raises(NotAllowed):
        use(hand, house, 1)
    with pytest.raises(NotThere):
        use(MembershipFactory(company__code="ELSEWHERE"), house, 1)
    assert not Movement.objects.exclude(kind="count").exists()


def test_what_is_proposed_is_what_is_needed_less_what_was_told(foreman, manager, company, house):
    lot = tubes(manager, 12)
    on_the_truck(manager, lot, 3)
    # 4 1/2 tubes' worth opens 5; 2 are written down already
    needed, used = {"sealant": TUBE * 9 // 2}, {("sealant", TUBE): 2}

    (line,) = to_use(company, house, truck="RED", needed=needed, used=used)

    assert (line.within_reach, line.proposed) == (12, 3)
    assert to_use(company, house, truck="RED", needed={}, used={})[0].proposed == 0


def test_nothing_is_lost_in_a_week_of_moves_and_uses(foreman, manager, company, house):
    lot = tubes(manager, 12)
    on_the_truck(manager, lot, 5)
    use(foreman, house, 4)
    services.take_from_lot(by=manager, lot=lot, place=shop(manager), kind="return", pieces=2, key=key())

    assert invariants.nothing_is_lost(company).broken == ()


def test_a_move_that_arrives_short_is_found(foreman, manager, company, house):
    """Negative control: a line forced past the database's guards."""
    from projects import triggers

    lot = tubes(manager, 12)
    on_the_truck(manager, lot, 5)
    triggers.remove("default")
    arrived = Movement.objects.filter(lot=lot, kind="move", quantity__gt=0)
    arrived.update(quantity=4 * TUBE, balance=4 * TUBE)

    (found,) = {broken.what for broken in invariants.nothing_is_lost(company).broken} - {
        f"came to {12 * TUBE}; 0 went, {11 * TUBE} is there"
    }
    assert found == f"is {-TUBE} more after its moves than before"


def test_the_page_of_a_house_says_what_became_of_what_came(client, foreman, manager, house):
    tubes(manager, 12)
    use(foreman, house, 5)
    client.force_login(foreman.user)

    page = client.get(reverse("house-stock", args=[house.pk])).content.decode()

    assert "Window sealant" in page
    assert "Lies there" in page
    empty = HouseFactory(project=house.project, code="LOT-2")
    assert (
        "Nothing came to this house yet"
        in client.get(reverse("house-stock", args=[empty.pk])).content.decode()
    )
