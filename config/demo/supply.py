"""The demo's suppliers, the days its houses are wanted, and its stock and its orders."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from config.demo.houses import take_over
from config.demo.people import Cast
from materials import services
from materials.catalogue.load import load_catalogue
from materials.convert import content_hash_of
from materials.models import PurchaseOrder
from materials.selectors.orders import local_today
from projects.models import UNPLACED, House
from projects.quantities.money import Money
from projects.quantities.text import parse_length
from projects.selectors import elevations_of

WEEK = timedelta(days=7)


def set_prices(cast: Cast, told: Mapping[str, Any], *, monday: date) -> None:
    """Set up the suppliers of `told` (`suppliers.toml`) with their prices, valid by today at the latest."""
    currency = cast.company.currency
    valid_from = min(monday + timedelta(days=told["valid_from_day"]), local_today(cast.company))
    for row in told["suppliers"]:
        supplier = services.set_supplier(
            by=cast.owner,
            supplier=None,
            code=row["code"],
            name=row["name"],
            email=row["email"],
            address=row["address"],
            lead_days=row["lead_days"],
            minimum=Money.of(row["minimum"], currency),
            freight=Money.of(row["freight"], currency),
            holidays=[monday + timedelta(days=day) for day in row["days_off"]],
        )
        for price in row["prices"]:
            services.set_price(
                by=cast.owner,
                supplier=supplier,
                material=price["material"],
                pack=price["pack"],
                price=Money.of(price["price"], currency),
                breaks=[(packs, Money.of(each, currency).cents) for packs, each in price.get("breaks", ())],
                valid_from=valid_from,
                grade=told["grade"],
                source=told["source"],
            )


def want_houses(cast: Cast, told: Mapping[str, Any], houses: Mapping[str, House], *, monday: date) -> None:
    """Set the day on which the builder wants each house; where a crew is sent, its day takes its place."""
    for project in told["projects"]:
        for row in project["houses"]:
            faces = elevations_of(houses[row["code"]]).exclude(name=UNPLACED)
            day = monday + timedelta(days=row["wanted_day"])
            services.set_need_dates(by=cast.manager, elevations=list(faces), day=day)


def lay_in(cast: Cast, told: Mapping[str, Any], *, monday: date) -> int:
    """Put the lots and offcuts of `told` (`stock.toml`) into the shop; return how many there are."""
    for row in told["lots"]:
        day = row.get("last_good_day")
        services.add_stock(
            by=cast.manager,
            material=row["material"],
            pack=row.get("pack", ""),
            packs=row["packs"] if "pack" in row else row["pieces"],
            number=row["lot"],
            last_good=None if day is None else monday + timedelta(days=day),
            key=f"demo-{row['lot']}",
        )
    for row in told["offcuts"]:
        services.add_offcut(
            by=cast.manager,
            material=row["material"],
            name=row["name"],
            length_nm=parse_length(row["length"]).nm,
            key=f"demo-{row['name']}",
        )
    for row in told["minimums"]:
        material = load_catalogue().material(row["material"])
        quantity = material.pack(row["pack"]).contains * row["packs"]
        services.set_minimum(by=cast.manager, material=material.key, quantity=quantity)
    for row in told["splices"]:
        services.allow_splices(by=cast.owner, material=row["material"], lap=parse_length(row["lap"]))
    return len(told["lots"]) + len(told["offcuts"])


def build_in_the_sample(cast: Cast, told: Mapping[str, Any], houses: Mapping[str, House]) -> None:
    """Use up what went into the sample opening of `told` (`stock.toml`)."""
    sample = told["sample"]
    services.use_at_house(
        by=cast.foreman,
        house=houses[sample["house"]],
        truck=sample["truck"],
        used=[services.Used(row["material"], 1, row["pieces"]) for row in sample["used"]],
        key="demo-sample",
        reason=sample["reason"],
    )


def receive_first_part(cast: Cast, told: Mapping[str, Any], *, monday: date) -> None:
    """Let the issued order be confirmed and its first line come, a pack damaged where it is of several."""
    order = PurchaseOrder.objects.of(cast.company).exclude(number=None).get()
    services.acknowledge_order(by=cast.manager, order=order, note=told["came"]["supplier_says"])
    line = order.lines.all()[0]
    damaged = int(line.packs > 1)
    came = services.Came(
        line=line.pk,
        good=line.packs - damaged,
        damaged=damaged,
        number=told["came"]["lot"],
        last_good=monday + timedelta(days=told["came"]["last_good_day"]),
    )
    services.receive_delivery(by=cast.foreman, order=order, came=[came], key="demo-came")
    services.make_cut_list(by=cast.foreman, order=order)


def cut_for_the_first_day(cast: Cast, *, monday: date) -> None:
    """Make the first day's cut list; its rolls wait to be cut."""
    services.make_cut_list(by=cast.foreman, day=monday)


def order(cast: Cast, told: Mapping[str, Any], houses: Mapping[str, House], *, monday: date) -> int:
    """Make the drafts of both weeks and issue the second week's largest; return how many orders there are.

    The first week's wait for the office. Then the builder's revision comes that the issued order shows as a
    difference.
    """
    later = services.make_drafts(by=cast.manager, week=monday + WEEK).orders
    issue(cast, max(later, key=lambda row: row.total_cents))
    first = services.make_drafts(by=cast.manager, week=monday).orders
    for revision in told["revisions"]:
        if revision.get("after_issue"):
            take_over(cast, houses[revision["house"]], revision["schedule"])
    return len(later) + len(first)


def issue(cast: Cast, draft: PurchaseOrder) -> None:
    """Issue a draft as the office does: what was seen is what is sent."""
    seen = content_hash_of(draft, draft.lines.all())
    services.issue_order(by=cast.manager, order=draft, key=f"demo-{draft.pk}", seen=seen)
