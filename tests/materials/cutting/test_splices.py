"""Strips that a company lets be spliced, in its lists and orders; worked by hand."""

from __future__ import annotations

import time
from datetime import date

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from config.invariants.verify import verify
from materials import services
from materials.models import CutRoll, SpliceRule
from materials.ordering.buying import Market, Wanted, buy
from materials.ordering.problem import Pack, Supplier
from materials.selectors.cut_pages import house_cut_page, order_cut_page
from materials.selectors.demand import week_demand
from materials.selectors.netting import net_openings
from materials.selectors.prices import market_today
from materials.selectors.splices import laps_of
from projects.errors import BadValue, NotAllowed, NotThere
from projects.quantities.length import Length
from projects.quantities.money import Money
from tests.materials.orders.building import bought, build, issue, set_price
from tests.materials.stock.building import shop

pytestmark = pytest.mark.django_db
FOUR = Length.inches(4)


@pytest.fixture
def site(manager):
    return build(manager)


def short_rolls(site, inches: int, count: int) -> None:
    """Put so many offcuts of the sill and head membrane into the shop."""
    for number in range(count):
        services.add_offcut(
            by=site.by,
            material="membrane-9in",
            name=f"B-{number}",
            length_nm=Length.inches(inches).nm,
            key=f"offcut-{number}",
        )


def halves(cut_list) -> list[tuple[str, str, int, float]]:
    found = [strip for roll in cut_list.rolls.all() for strip in roll.strips if strip.get("number")]
    return sorted(
        (strip["mark"], strip["part"], strip["number"], Length(strip["length"]).in_inches) for strip in found
    )


def test_a_company_allows_and_takes_back(site, hand):
    rule = services.allow_splices(by=site.by, material="drip-cap", lap=FOUR)
    services.allow_splices(by=site.by, material="drip-cap", lap=Length.inches(6))
    services.allow_splices(by=site.by, material="membrane-9in", lap=FOUR)

    assert laps_of(site.by.company) == {"drip-cap": Length.inches(6).nm, "membrane-9in": FOUR.nm}
    services.forbid_splices(by=site.by, rule=rule)
    assert laps_of(site.by.company) == {"membrane-9in": FOUR.nm}
    with pytest.raises(NotAllowed):
        services.allow_splices(by=hand, material="drip-cap", lap=FOUR)


@pytest.mark.parametrize(
    ("material", "inches", "problem"),
    [("foam", 4, "is not cut to length"), ("drip-cap", 3.5, 'A lap of 3 1/2" is too short.')],
)
def test_what_can_not_be_spliced_is_refused(site, material, inches, problem):
    with pytest.raises(BadValue, match=problem):
        services.allow_splices(by=site.by, material=material, lap=Length.inches(inches))


def test_the_database_refuses_a_lap_that_is_too_short_and_another_companys_rule(site, stranger):
    rule = services.allow_splices(by=site.by, material="drip-cap", lap=FOUR)

    with pytest.raises(IntegrityError), transaction.atomic():
        SpliceRule.objects.update(lap_nm=FOUR.nm - 1)
    with pytest.raises(NotThere):
        services.forbid_splices(by=stranger, rule=rule)


def test_a_list_splices_where_it_saves_a_roll_and_only_where_allowed(site):
    # eight strips: 77.5, 77.5, 54.5, 54.5, 53.5, 53.5, 42.5, 42.5 = 456 in. Six offcuts of 78 in are 468 in
    # together but hold six strips in one piece: a roll is opened for two of them
    short_rolls(site, 78, 6)
    before = services.make_cut_list(by=site.by, house=site.house)
    assert halves(before) == []
    assert before.rolls.filter(material="membrane-9in", lot=None).exists()

    services.allow_splices(by=site.by, material="membrane-9in", lap=FOUR)
    after = services.make_cut_list(by=site.by, house=site.house)

    found = halves(after)
    assert [number for _, _, number, _ in found].count(1) == [number for _, _, number, _ in found].count(2)
    assert "pan" not in {part for _, part, _, _ in found}
    lengths = [
        strip["length"] for roll in after.rolls.filter(material="membrane-9in") for strip in roll.strips
    ]
    laps = len(found) // 2 * FOUR.nm
    assert sum(lengths) == Length.inches(456).nm + laps
    assert (
        after.rolls.filter(material="membrane-9in", lot=None).count()
        <= before.rolls.filter(material="membrane-9in", lot=None).count()
    )


def a_spliced_list(site) -> int:
    """Make the house's list, a jamb strip of 77.5 in made of 40 and 41.5 by hand; return the first's roll."""
    cut_list = services.make_cut_list(by=site.by, house=site.house)
    roll = cut_list.rolls.get(material="membrane-9in")
    strips = list(roll.strips)
    jamb = next(strip for strip in strips if strip["length"] == Length.inches(77.5).nm)
    strips.remove(jamb)
    whole = {"whole": jamb["length"], "lap": FOUR.nm}
    first = {**jamb, **whole, "length": Length.inches(40).nm, "number": 1}
    second = {**jamb, **whole, "length": Length.inches(41.5).nm, "number": 2}
    CutRoll.objects.filter(pk=roll.pk).update(strips=[*strips, first])
    CutRoll.objects.create(
        company=roll.company,
        cut_list=cut_list,
        position=99,
        material="membrane-9in",
        pack="roll-50ft",
        length_nm=roll.length_nm,
        strips=[second],
        left_nm=roll.length_nm - second["length"],
    )
    return roll.pk


def test_both_halves_of_a_strip_count_as_the_strip(site):
    a_spliced_list(site)

    page = house_cut_page(site.by.company, site.house.pk)

    assert not page.is_stale
    names = [strip.name for material in page.materials for roll in material.rolls for strip in roll.strips]
    assert 'left jamb strip, 1 of 2, laps 4"' in names
    assert 'left jamb strip, 2 of 2, laps 4"' in names


def test_where_one_half_was_cut_the_other_is_still_to_cut(site):
    first = a_spliced_list(site)
    lot = services.add_stock(by=site.by, material="membrane-9in", pack="roll-50ft", packs=1, key="roll")
    CutRoll.objects.filter(pk=first).update(lot=lot, place=shop(site.by))
    services.cut_roll(by=site.by, roll=CutRoll.objects.get(pk=first), kept_nm=0)

    assert not house_cut_page(site.by.company, site.house.pk).is_stale
    again = services.make_cut_list(by=site.by, house=site.house)

    left = [
        (strip["number"], strip["length"])
        for roll in again.rolls.filter(material="membrane-9in", cut_at=None)
        for strip in roll.strips
    ]
    assert left == [(2, Length.inches(41.5).nm)]
    assert not house_cut_page(site.by.company, site.house.pk).is_stale


def test_an_order_splices_a_drip_cap_longer_than_a_stick():
    stick = Pack("drip-cap", "A", "stick", Length.inches(120).nm, Money(11_00))
    market = Market(date(2026, 6, 3), (stick,), (Supplier("A", 1),))
    pieces = {Length.inches(150).nm: 1}

    def asked(lap: int):
        wanted = Wanted("drip-cap", date(2026, 6, 8), Length.inches(150).nm, pieces, lap=lap)
        return buy([wanted], market, seconds=5.0, clock=time.monotonic)

    assert asked(0).shortages[0].reason == "The pieces are longer than any roll on sale."
    # 120 and 150 + 4 - 120 = 34: two sticks
    (line,) = asked(FOUR.nm).lines
    assert (line.packs, line.total, line.quantity) == (2, Money(22_00), Length.inches(154).nm)


def test_an_order_splices_strips_but_no_pan():
    # three strips of 398 in, rolls of 600: in one piece a roll each. 3 x 398 + a lap of 4 are 1,198 of 1,200
    strip = Length.inches(398).nm
    roll = Pack("membrane-9in", "A", "roll", Length.inches(600).nm, Money(29_00))
    market = Market(date(2026, 6, 3), (roll,), (Supplier("A", 1),))

    def rolls(pans: int, lap: int) -> tuple[int, int]:
        wanted = Wanted("membrane-9in", date(2026, 6, 8), 3 * strip, {strip: 3}, pans={strip: pans}, lap=lap)
        (line,) = buy([wanted], market, seconds=5.0, clock=time.monotonic).lines
        return line.packs, line.quantity

    assert rolls(0, 0) == (3, 3 * strip)
    assert rolls(0, FOUR.nm) == (2, 3 * strip + FOUR.nm)
    # the third strip lies in the ends of the two rolls from which a pan each is cut whole
    assert rolls(2, FOUR.nm) == (2, 3 * strip + FOUR.nm)
    assert rolls(3, FOUR.nm) == (3, 3 * strip)


SEVEN = b"elevation,mark,unit_width,unit_height\n" + b"".join(
    b"Front,W%d,82.5,83.5\n" % number for number in range(1, 8)
)


def test_a_drafted_order_counts_the_strips_spliced_and_the_pans_whole(manager):
    site = build(manager, schedule=SEVEN)
    for pack in ("roll-75ft", "roll-100ft"):
        for material in ("membrane-9in", "membrane-12in"):
            set_price(site.by, site.supplier, material, pack, Money(900_00))
    # RO 83 x 84: sill, head and jambs 101 in each, five to a roll of 600: 28 strips are 6 rolls, 2,828 in
    whole = site.draft()
    assert bought(whole)["membrane-9in"][0] == 6
    assert "laps" not in whole.inputs
    services.discard_draft(by=site.by, order=whole)

    services.allow_splices(by=site.by, material="membrane-9in", lap=FOUR)
    services.allow_splices(by=site.by, material="membrane-12in", lap=FOUR)
    spliced = site.draft()

    # 25 whole, and three of two parts from the five ends of 95 in: 2,828 + 3 x 4 = 2,840 in 5 rolls.
    # Pans of 95 in, six to a roll: 7 are 2 rolls
    assert bought(spliced)["membrane-9in"][0] == 5
    assert spliced.inputs["laps"] == {"membrane-12in": FOUR.nm, "membrane-9in": FOUR.nm}
    lines = {line.material: line for line in spliced.lines.all()}
    assert lines["membrane-9in"].need == Length.inches(2_840).nm
    assert (lines["membrane-12in"].packs, lines["membrane-12in"].need) == (2, Length.inches(665).nm)
    issued = issue(spliced, by=site.by)
    assert not [finding for finding in verify([site.by.company]) if finding.broken]
    # the order's own list cuts all strips from its five rolls
    page = order_cut_page(site.by.company, services.make_cut_list(by=site.by, order=issued).order_id)
    (cut,) = [material for material in page.materials if material.key == "membrane-9in"]
    assert len(cut.rolls) == 5


def test_pans_are_told_from_strips_of_the_same_width(manager):
    site = build(manager)
    services.allow_splices(by=site.by, material="membrane-12in", lap=FOUR)

    demand = week_demand(site.by.company, site.monday)
    wanted = net_openings(site.by.company, demand.openings, market_today(site.by.company)).wanted

    pans = {one.material: dict(one.pans) for one in wanted if one.pans}
    # 36.5 + 12 and 24.5 + 12
    assert pans == {"membrane-12in": {Length.inches(48.5).nm: 1, Length.inches(36.5).nm: 1}}


def test_the_page_allows_and_takes_back(client_of, site, foreman):
    office, address = client_of(site.by), reverse("splices")

    bad = office.post(address, {"material": "drip-cap", "lap": "2"})
    office.post(address, {"material": "drip-cap", "lap": "4"})

    assert "lap" in bad.context["form"].errors
    assert "Drip cap" in office.get(address).content.decode()
    rule = SpliceRule.objects.get()
    assert client_of(foreman).get(address).status_code == 403
    office.post(reverse("splice-forbid", args=[rule.pk]))
    assert "Nothing may be spliced" in office.get(address).content.decode()
