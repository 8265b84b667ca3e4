"""The order as the supplier gets it: as a PDF, as tables, and as a document for his own programs.

And takeoff, stock and cut lists as tables, deliveries as a calendar, to take along.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from types import MappingProxyType

from django.template.loader import render_to_string
from django.utils.text import slugify

from materials.convert import lines_that_came, order_value, paper_of
from materials.exchange.change import line_changes
from materials.exchange.needs import takeoff_table
from materials.exchange.order import Order
from materials.exchange.receipt import Receipt, ubl_receipt
from materials.exchange.table import Table, csv_of, csv_order, xlsx_of, xlsx_order
from materials.exchange.ubl import ubl_cancellation, ubl_order
from materials.selectors.cut_pages import CutPage, cut_table
from materials.selectors.deliveries import DeliveryShown
from materials.selectors.orders import OrderShown
from materials.selectors.stock import StockPage, orders_to_come, stock_table
from materials.selectors.takeoff import Takeoff, takeoff_summed
from projects.calendars import CALENDAR, Entry, calendar_of
from projects.jobs import Document
from projects.models import Company, House, Project
from projects.pdf import pdf_of

_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
FORMS: Mapping[str, tuple[str, Callable[[Order], bytes]]] = MappingProxyType(
    {
        "csv": ("text/csv; charset=utf-8", csv_order),
        "xlsx": (_XLSX, xlsx_order),
        "xml": ("application/xml", ubl_order),
    }
)
"""What an order can be written as at once, by the end of the file's name; a PDF takes a job."""
TABLES: Mapping[str, tuple[str, Callable[[Table], bytes]]] = MappingProxyType(
    {"csv": (FORMS["csv"][0], csv_of), "xlsx": (_XLSX, xlsx_of)}
)
"""What a table can be written as."""


def order_pdf(order: OrderShown) -> Document:
    """Return the order's PDF, the same bytes at every time of asking. Raises PdfUnavailable."""
    return Document(_name(order, "pdf"), pdf_of(order_sheet(order), paper_of(order.row)))


def order_sheet(order: OrderShown) -> str:
    """Return the HTML that the PDF is drawn from, its days as the company's calendar has them."""
    value = value_of(order)
    changes = line_changes(value) if value.before else ()
    return render_to_string("documents/order.html", {"order": value, "changes": changes})


def order_file(order: OrderShown, form: str) -> Document:
    """Return the order in one of FORMS. Raises NotIssued where the form is none for a draft."""
    content_type, write = FORMS[form]
    return Document(_name(order, form), write(value_of(order)), content_type)


def order_cancellation(order: OrderShown, *, reason: str, at: datetime) -> Document:
    """Return the UBL that takes an issued order back; `at` is the moment it was cancelled."""
    value = value_of(order)
    moment = at.astimezone(value.issued.tzinfo if value.issued else None)
    written = ubl_cancellation(value, reason=reason, at=moment)
    return Document(f"cancellation-{value.number}.xml", written, FORMS["xml"][0])


def receipt_file(delivery: DeliveryShown) -> Document:
    """Return what a delivery brought as UBL for its supplier, on the day that the buyer's clock had."""
    order = value_of(delivery.order)
    positions = {line.pk: line.position for line in delivery.order.row.lines.all()}
    receipt = Receipt(
        order=order,
        place=delivery.place,
        at=delivery.row.at.astimezone(order.issued.tzinfo if order.issued else None),
        lines=lines_that_came(
            order.lines,
            delivery.row.lines.all(),
            before={positions[line]: packs for line, packs in delivery.before.items()},
            awaited=delivery.awaited,
        ),
        note=delivery.row.note,
    )
    return Document(f"receipt-{receipt.number}.xml", ubl_receipt(receipt), FORMS["xml"][0])


def takeoff_file(project: Project, house: House | None, takeoff: Takeoff, form: str) -> Document:
    """Return the takeoff of a house, or of a project with each of its houses, in one of TABLES."""
    name = house.code if house else project.code
    return table_file(takeoff_table(takeoff_summed(project, house, takeoff)), f"takeoff-{name}", form)


def stock_file(page: StockPage, form: str) -> Document:
    """Return what lies in stock in one of TABLES, with an empty column to count into."""
    return table_file(stock_table(page), f"stock-{page.today.isoformat()}", form)


def cut_list_file(page: CutPage, form: str) -> Document:
    """Return a cut list in one of TABLES, a row for each strip."""
    return table_file(cut_table(page), page.file_name, form)


def deliveries_calendar(company: Company, *, at: datetime) -> Document:
    """Return the days on which orders are due as a calendar, without a price, made at `at`."""
    due = tuple(
        Entry(
            key=f"delivery-{order.pk}.{company.code}",
            title=f"Due: order {order.number} from {order.supplier.name}",
            day=order.deliver_by,
            where=", ".join(line.strip() for line in order.deliver_to.splitlines() if line.strip()),
            told="Count it when it comes, and look for damage before the driver leaves.",
        )
        for order in orders_to_come(company)
        if order.deliver_by
    )
    content = calendar_of(f"Deliveries to {company.name}", due, at=at)
    return Document("deliveries.ics", content, CALENDAR)


def value_of(order: OrderShown) -> Order:
    """Return the order as its supplier gets it."""
    return order_value(order.row, lines=order.row.lines.all(), houses=order.houses)


def table_file(table: Table, name: str, form: str) -> Document:
    """Return the table in one of TABLES, the file named by `name` in small letters."""
    content_type, write = TABLES[form]
    return Document(f"{slugify(name)}.{form}", write(table), content_type)


def _name(order: OrderShown, form: str) -> str:
    row = order.row
    return f"order-{row.number}.{form}" if row.number else f"draft-{row.supplier.code.lower()}.{form}"
