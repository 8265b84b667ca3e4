"""R40: orders drawn at random, issued, and read back in every form in which they leave the house.

Names, places and descriptions are what people may type, hostile and foreign ones too; every other order is
one that changes the first. Each form is read by a reader that is not ours: lxml, csv, openpyxl, pypdfium2.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db import transaction
from django.urls import reverse
from hypothesis import strategies as st
from lxml import etree, html
from openpyxl import load_workbook

from materials import services
from materials.catalogue.load import load_catalogue
from materials.documents import order_file, order_pdf
from materials.models import OrderLine, PurchaseOrder, Supplier
from materials.selectors.orders import order_of
from projects.models import Company, Membership
from projects.quantities.money import Money
from tests.factories.orders import DraftFactory
from tests.materials.exchange.cast import HOSTILE
from tests.materials.exchange.test_change import problems_of
from tests.materials.orders.building import issue
from tests.papers import pages_of

CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"
CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"
PACKS = sorted(
    (material.key, pack.label.key)
    for material in load_catalogue().materials.values()
    for pack in material.packs
)
AMOUNT = re.compile(r"Total, USD\s+\$([\d,]+\.\d\d)")


@dataclass(frozen=True)
class Drawn:
    """A supplier, where to deliver, and lines of material, pack, description, packs and cents."""

    supplier: str
    address: tuple[str, ...]
    yard: str
    deliver_to: str
    monday: date
    before_monday: int
    freight: int
    lines: tuple[tuple[tuple[str, str], str, int, int], ...]


def typed(longest: int) -> st.SearchStrategy[str]:
    """Return text that every form carries: no control character, but all other signs of Unicode."""
    signs = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"), exclude_characters="\ufffe\uffff")
    anything = st.text(signs, min_size=1, max_size=longest)
    return (anything | st.sampled_from(HOSTILE)).filter(lambda text: text.strip())


def drawn() -> st.SearchStrategy[Drawn]:
    line = st.tuples(
        st.sampled_from(PACKS),
        typed(60),
        st.integers(1, 5000),
        st.integers(0, 99_999_99) | st.sampled_from((0, 1, 99, 1_00)),
    )
    return st.builds(
        Drawn,
        supplier=typed(40),
        address=st.lists(typed(60), max_size=4).map(tuple),
        yard=st.just("") | typed(60),
        deliver_to=st.just("") | typed(80),
        monday=st.integers(0, 500).map(lambda weeks: date(2026, 1, 5) + timedelta(weeks=weeks)),
        before_monday=st.integers(0, 20),
        freight=st.just(0) | st.integers(1, 500_00),
        lines=st.lists(line, min_size=1, max_size=12).map(tuple),
    )


def put_down(drawn: Drawn, by: Membership, *, changes: PurchaseOrder | None = None) -> PurchaseOrder:
    """Return the drawn order as its draft."""
    supplier = changes.supplier if changes else _supplier(drawn, by)
    Company.objects.filter(pk=by.company_id).update(yard=drawn.yard)
    by.company.refresh_from_db()
    draft = DraftFactory(
        company=by.company,
        supplier=supplier,
        line=None,
        week=drawn.monday,
        deliver_by=drawn.monday - timedelta(days=drawn.before_monday),
        deliver_to=drawn.deliver_to,
        freight_cents=drawn.freight,
        total_cents=sum(packs * cents for *_, packs, cents in drawn.lines),
        changes=changes,
    )
    draft.lines.all().delete()
    for position, ((material, pack), description, packs, cents) in enumerate(drawn.lines, 1):
        OrderLine.objects.create(
            company=by.company,
            order=draft,
            position=position,
            material=material,
            description=description,
            need=1,
            unit="piece",
            pack=pack,
            pack_size=1,
            packs=packs,
            unit_price_cents=cents,
            total_cents=packs * cents,
        )
    return draft


def _supplier(drawn: Drawn, by: Membership) -> Supplier:
    return services.set_supplier(
        by=by,
        supplier=None,
        code="DRAWN",
        name=drawn.supplier,
        email="orders@drawn.example",
        address="\n".join(drawn.address),
    )


@dataclass(frozen=True)
class Sums:
    """What one form says of the money, in dollars: each line that is wanted, freight, and what is to pay."""

    lines: tuple[Decimal, ...]
    freight: Decimal
    payable: Decimal


def by_hand(drawn: Drawn) -> Sums:
    lines = tuple(Decimal(packs * cents) / 100 for *_, packs, cents in drawn.lines)
    freight = Decimal(drawn.freight) / 100
    return Sums(lines, freight, sum(lines) + freight)


def in_xml(content: bytes) -> Sums:
    root = etree.fromstring(content)
    items = list(root.iter(f"{CAC}LineItem"))
    wanted = [item for item in items if item.findtext(f"{CBC}LineStatusCode") != "Cancelled"]
    amount = root.find(f"{CAC}AllowanceCharge/{CBC}Amount")
    total = root.find(f"{CAC}AnticipatedMonetaryTotal")
    sums = Sums(
        tuple(Decimal(item.findtext(f"{CBC}LineExtensionAmount")) for item in wanted),
        Decimal(0) if amount is None else Decimal(amount.text),
        Decimal(total.findtext(f"{CBC}PayableAmount")),
    )
    assert Decimal(total.findtext(f"{CBC}LineExtensionAmount")) == sum(sums.lines)
    return sums


def in_table(rows: list[tuple[str, Decimal]]) -> Sums:
    """Return the sums of a table's rows of material and total; a table says nothing of what is to pay."""
    lines = tuple(total for material, total in rows if material != "freight")
    freight = sum((total for material, total in rows if material == "freight"), Decimal(0))
    return Sums(lines, freight, sum(lines) + freight)


def in_csv(content: bytes) -> Sums:
    rows = csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline=""))
    return in_table([(row["material"], Decimal(row["total"])) for row in rows])


def in_workbook(content: bytes) -> Sums:
    (columns, *rows) = load_workbook(io.BytesIO(content)).active.values
    material, total = columns.index("material"), columns.index("total")
    return in_table([(row[material], Decimal(str(row[total]))) for row in rows])


def on_page(content: bytes) -> Sums:
    (table,) = html.fromstring(content.decode()).xpath("//*[@aria-label='Lines']/table")
    lines = tuple(
        _read(cell.text_content())
        for cell in table.xpath("tbody/tr[not(@data-state)]/td[@data-name='Total']")
    )
    feet = {row.findtext("th"): _read(row.find("td").text_content()) for row in table.xpath("tfoot/tr")}
    return Sums(lines, feet.get("Freight", Decimal(0)), feet["Total"])


def payable_on_paper(content: bytes) -> Decimal:
    (told,) = AMOUNT.findall("".join(page.text for page in pages_of(content)))
    return _read(told)


def _read(text: str) -> Decimal:
    return Decimal(text.strip().lstrip("$").replace(",", ""))


def agree_in_every_form(drawn: Drawn, changed: Drawn | None, by: Membership, client) -> None:
    """Issue the order, and the one that changes it; every form of each is valid and says the same money."""
    with transaction.atomic():
        order = _agrees(drawn, put_down(drawn, by), by, client, kind="Order")
        if changed:
            _agrees(changed, put_down(changed, by, changes=order), by, client, kind="OrderChange")
        transaction.set_rollback(True)


def _agrees(drawn: Drawn, draft: PurchaseOrder, by: Membership, client, *, kind: str) -> PurchaseOrder:
    order = issue(draft, by=by, key=f"form-{draft.pk}")
    shown, expected = order_of(by.company, order.pk), by_hand(drawn)
    xml = order_file(shown, "xml").content

    assert problems_of(xml, kind) == []
    assert in_xml(xml) == expected
    assert in_csv(order_file(shown, "csv").content) == expected
    assert in_workbook(order_file(shown, "xlsx").content) == expected
    assert on_page(client.get(reverse("order", args=[order.pk])).content) == expected
    assert payable_on_paper(order_pdf(shown).content) == expected.payable
    assert Money.of(expected.payable) == shown.payable
    return order
