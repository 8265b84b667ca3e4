"""I4: what a lot has at a place is the sum of its lines, never below nothing; a line is never changed."""

from __future__ import annotations

import random
from collections import Counter
from contextlib import suppress

import pytest
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from materials import services
from materials.errors import BadPieces, NotEnough, OtherLines
from materials.models import Lot, MinimumLevel, Movement
from materials.services import ledger
from projects import triggers
from projects.errors import BadValue, NotAllowed, NotThere
from projects.models import AuditEntry
from projects.quantities.length import Length
from tests.factories.houses import HouseFactory
from tests.materials.stock.building import TUBE, key, shop, there, told, tubes

pytestmark = pytest.mark.django_db


def test_case_is_counted_by_its_tubes_and_a_box_by_its_pieces(manager):
    cases = services.add_stock(by=manager, material="sealant", pack="case-12", packs=2, key=key())
    screws = services.add_stock(by=manager, material="screw-2in", pack="box-500", packs=1, key=key())
    loose = services.add_stock(by=manager, material="shims", pack="", packs=40, key=key())

    assert (cases.pack, cases.piece_size, there(cases, shop(manager))) == ("cartridge-10.1oz", TUBE, 24)
    assert (screws.pack, screws.piece_size, there(screws, shop(manager))) == ("", 1, 500)
    assert there(loose, shop(manager)) == 40


def test_membrane_is_not_counted_by_the_foot(manager):
    with pytest.raises(BadValue):
        services.add_stock(by=manager, material="membrane-9in", pack="", packs=40, key=key())

    assert not Lot.objects.exists()


def test_offcut_is_a_lot_of_one_piece(manager):
    long = Length.inches(212)

    offcut = services.add_offcut(
        by=manager, material="membrane-9in", name="o-17", length_nm=long.nm, key=key()
    )

    assert (offcut.number, offcut.piece_size, there(offcut, shop(manager))) == ("o-17", long.nm, 1)


def test_every_way_to_take_and_bring_stands_in_the_ledger(manager, foreman):
    lot, place = tubes(manager, 12), shop(manager)
    truck = ledger.truck_of(foreman, "RED")

    services.move_lot(by=foreman, lot=lot, place=place, to=truck, pieces=5, key=key())
    services.take_from_lot(by=foreman, lot=lot, place=truck, kind="use", pieces=2, key=key())
    services.take_from_lot(
        by=manager, lot=lot, place=place, kind="scrap", pieces=1, key=key(), reason="froze"
    )
    services.take_from_lot(by=manager, lot=lot, place=place, kind="return", pieces=1, key=key())
    services.count_lot(by=manager, lot=lot, place=place, pieces=4, key=key())
    services.correct_lot(by=manager, lot=lot, place=place, pieces=1, key=key(), reason="written twice")

    # shop: 12, - 5 to the truck, - 1 scrapped, - 1 sent back, counted 4 where 5 should be, 1 set right
    # truck: 5 come, 2 used
    assert told(lot) == [
        ("count", 12, 12),
        ("move", -5, 7),
        ("move", 5, 5),
        ("use", -2, 3),
        ("scrap", -1, 6),
        ("return", -1, 5),
        ("count", -1, 4),
        ("correct", 1, 5),
    ]
    assert (there(lot, place), there(lot, truck)) == (5, 3)
    assert AuditEntry.objects.filter(action="scrap stock", actor="Dana Whitlow").exists()


def test_more_than_lies_there_does_not_leave(manager):
    lot, place = tubes(manager, 3), shop(manager)

    with pytest.raises(NotEnough):
        services.take_from_lot(by=manager, lot=lot, place=place, kind="use", pieces=4, key=key())
    with pytest.raises(NotEnough):
        services.correct_lot(by=manager, lot=lot, place=place, pieces=-4, key=key(), reason="too many")

    assert told(lot) == [("count", 3, 3)]


@pytest.mark.parametrize("pieces", [0, -1])
def test_nothing_or_less_is_no_movement(manager, pieces):
    lot = tubes(manager, 3)

    with pytest.raises(BadPieces):
        services.take_from_lot(by=manager, lot=lot, place=shop(manager), kind="use", pieces=pieces, key=key())

    assert told(lot) == [("count", 3, 3)]


def test_form_that_is_sent_twice_moves_once(manager):
    lot, place = tubes(manager, 12), shop(manager)
    truck, form = ledger.truck_of(manager, "RED"), key()
    used, counted, found = key(), key(), key()

    for _ in range(2):
        services.move_lot(by=manager, lot=lot, place=place, to=truck, pieces=5, key=form)
        services.take_from_lot(by=manager, lot=lot, place=truck, kind="use", pieces=1, key=used)
    services.count_lot(by=manager, lot=lot, place=place, pieces=6, key=counted)
    services.take_from_lot(by=manager, lot=lot, place=place, kind="use", pieces=1, key=key())
    services.count_lot(by=manager, lot=lot, place=place, pieces=6, key=counted)
    twice = [
        services.add_stock(by=manager, material="shims", pack="", packs=9, key=found).pk for _ in range(2)
    ]

    assert (there(lot, place), there(lot, truck)) == (5, 4)
    assert len(set(twice)) == 1


def test_same_form_with_something_else_is_refused(manager):
    lot, form = tubes(manager, 12), key()
    services.take_from_lot(by=manager, lot=lot, place=shop(manager), kind="use", pieces=1, key=form)

    with pytest.raises(OtherLines):
        services.take_from_lot(by=manager, lot=lot, place=shop(manager), kind="use", pieces=2, key=form)

    assert there(lot, shop(manager)) == 11


def test_level_is_set_changed_and_taken_away(manager):
    for quantity in (6, 6, 8):
        services.set_minimum(by=manager, material="shims", quantity=quantity)

    assert MinimumLevel.objects.get().quantity == 8
    services.set_minimum(by=manager, material="shims", quantity=0)
    assert not MinimumLevel.objects.exists()
    assert AuditEntry.objects.filter(action="set minimum").count() == 2


def test_each_does_what_the_role_may(manager, foreman, hand, stranger):
    lot, place = tubes(manager, 12), shop(manager)
    take = {"lot": lot, "place": place, "pieces": 1}

    services.take_from_lot(by=foreman, kind="use", key=key(), **take)
    for by, kind, refusal in [
        (foreman, "scrap", NotAllowed),
        (hand, "use", NotAllowed),
        (stranger, "use", NotThere),
    ]:
        with pytest.raises(refusal):
            services.take_from_lot(by=by, kind=kind, key=key(), **take)
    for refused in (
        lambda: services.count_lot(by=foreman, key=key(), **take),
        lambda: services.set_minimum(by=foreman, material="shims", quantity=1),
    ):
        with pytest.raises(NotAllowed):
            refused()

    assert there(lot, place) == 11


def line(lot, place, **values):
    """Write a line as no service does."""
    told = {"number": 2, "quantity": -lot.piece_size, "kind": "use", "key": key(), **values}
    told.setdefault("balance", there(lot, place) * lot.piece_size + told["quantity"])
    return Movement.objects.create(company=lot.company, lot=lot, place=place, at=timezone.now(), **told)


def sql(statement):
    with connection.cursor() as cursor:
        cursor.execute(statement)


BROKEN = {
    "below nothing": lambda lot, place: line(lot, place, quantity=-4 * TUBE),
    "a balance that is no sum": lambda lot, place: line(lot, place, balance=3 * TUBE),
    "a number left out": lambda lot, place: line(lot, place, number=3),
    "a number again": lambda lot, place: line(lot, place, number=1),
    "half a tube": lambda lot, place: line(lot, place, quantity=-TUBE // 2),
    "nothing at all": lambda lot, place: line(lot, place, quantity=0),
    "a kind that is none": lambda lot, place: line(lot, place, kind="lend"),
    "a line changed": lambda lot, place: Movement.objects.update(quantity=TUBE),
    "a line changed by SQL": lambda lot, place: sql("UPDATE materials_movement SET balance = 0"),
    "a line deleted": lambda lot, place: Movement.objects.all()._raw_delete("default"),
    "another size": lambda lot, place: Lot.objects.update(piece_size=1),
    "another material": lambda lot, place: Lot.objects.update(material="shims"),
}


@pytest.mark.parametrize("way", BROKEN)
def test_the_database_refuses_a_ledger_that_does_not_add_up(manager, way):
    lot = tubes(manager, 3)
    before = list(Movement.objects.values_list())

    with pytest.raises(IntegrityError), transaction.atomic():
        BROKEN[way](lot, shop(manager))

    assert list(Movement.objects.values_list()) == before


@pytest.mark.parametrize("way", ["a balance that is no sum", "half a tube", "a line deleted", "another size"])
def test_without_the_triggers_the_same_would_pass(manager, way):
    """The negative control."""
    lot = tubes(manager, 3)
    before = (list(Movement.objects.values_list()), list(Lot.objects.values_list()))

    with triggers.lifted():
        BROKEN[way](lot, shop(manager))

    assert (list(Movement.objects.values_list()), list(Lot.objects.values_list())) != before


def test_house_is_a_place_of_its_own_company(manager, stranger):
    lot, mine = tubes(manager, 3), HouseFactory(project__company=manager.company)
    foreign = ledger.house_of(stranger, HouseFactory(project__company=stranger.company))

    services.move_lot(
        by=manager, lot=lot, place=shop(manager), to=ledger.house_of(manager, mine), pieces=1, key=key()
    )
    with pytest.raises(NotThere):
        services.move_lot(by=manager, lot=lot, place=shop(manager), to=foreign, pieces=1, key=key())

    assert there(lot, ledger.house_of(manager, mine)) == 1


@pytest.mark.parametrize("seed", range(4))
def test_replayed_ledger_is_the_stock_after_any_steps(manager, seed):
    dice = random.Random(seed)
    lots = [tubes(manager, 12) for _ in range(2)]
    places = [shop(manager), ledger.truck_of(manager, "RED")]
    want = Counter({(lot.pk, places[0].pk): 12 for lot in lots})

    for _ in range(40):
        lot, place, pieces = dice.choice(lots), dice.choice(places), dice.randrange(1, 7)
        to = next(each for each in places if each != place)
        with suppress(NotEnough):
            if dice.random() < 0.5:
                services.move_lot(by=manager, lot=lot, place=place, to=to, pieces=pieces, key=key())
                want[lot.pk, to.pk] += pieces
            else:
                kind = dice.choice(("use", "scrap", "return"))
                services.take_from_lot(by=manager, lot=lot, place=place, kind=kind, pieces=pieces, key=key())
            want[lot.pk, place.pk] -= pieces

    for lot in lots:
        for place in places:
            assert there(lot, place) == want[lot.pk, place.pk] >= 0
    assert not Movement.objects.filter(balance__lt=0).exists()
