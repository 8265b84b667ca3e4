"""What an honest person enters at each address that takes a form: enough that something is written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from materials.convert import content_hash_of
from materials.forms.price_lists import sealed
from materials.pricelist.read import ListedPrice
from tests.access.matrix import Row
from tests.access.world import World
from tests.factories.houses import ElevationFactory
from tests.factories.openings import SCHEDULE, OpeningFactory, count_all_windows, windows_of
from tests.factories.people import PASSWORD
from tests.materials.compatibility.building import PDF

Entry = dict[str, Any]
PRICES = b"material,pack,price\nshims,bundle-50,8.25\n"
# addresses that write no row of ours but the session, a cookie, or a hash that differs each time
WRITE_NOTHING = {
    "price-list",
    "appearance",
    "company-switch",
    "kept-entry-drop",
    "password",
    "sign-out",
    # nothing is there to do in the world of the matrix; the pages' own tests do it
    "assignment-earlier",
    "crew-restore",
    "crew-used",
    "member-restore",
    "sheet-make",
    "house-restore",
    "opening-restore",
    "order-difference",
    "order-week-drafts",
    "person-restore",
    "project-restore",
    "job-retry",
    "face-uncover",
    "instruction-restore",
    "need-dates-back",
    "price-back",
    "stock-level-back",
}
QUARTERS = ("night", "morning", "afternoon", "evening")


def _issued(there: World) -> Entry:
    order = there.thing("order")
    return {"key": "k" * 32, "seen": content_hash_of(order, order.lines.all())}


def _reachable(there: World) -> Entry:
    supplier = there.thing("issued").supplier
    supplier.email = "orders@thistle.example"
    supplier.save()
    return {}


def _weather(there: World) -> Entry:
    there.thing("project")  # it names the place
    return {
        f"{quarter}_{name}": value
        for quarter in QUARTERS
        for name, value in (("temp", "50"), ("rh", "60"), ("wind", "5"))
    }


def _came(there: World) -> Entry:
    return {f"good-{there.thing('issued').lines.get().pk}": "1"}


def _counted(there: World) -> Entry:
    return {f"lot-{there.thing('lot').pk}": "11"}


def _sheet(there: World) -> Entry:
    file = SimpleUploadedFile("sheet.pdf", PDF)
    return {"title": "Sealant, sheet 4", "dated": "2026-05-01", "file": file, "material": "sealant"}


def _price_list(there: World) -> str:
    listed = (ListedPrice(2, "shims", "bundle-50", 825),)
    return sealed(there.thing("supplier").pk, "list.csv", listed, refused=0)


def _ticked(there: World, *, counted: bool = False) -> Entry:
    house = there.thing("house")
    opening = OpeningFactory(house=house, mark=f"T{house.openings.count()}")
    if counted:
        count_all_windows(there.people["owner"], house, opening.mark)
    (tick,) = [each.tick for each in windows_of(house) if each.opening == opening]
    return {"key": "k" * 32, "opening": tick}


def _here(there: World, **entry: str) -> Entry:
    opening = there.thing("opening")
    count_all_windows(there.people["owner"], opening.house, opening.mark)
    return entry


OWN: dict[str, Callable[[World], Entry]] = {
    "company": lambda there: {"name": "Harrow Lane", "yard": "4 Mill Yard"},
    "crew-edit": lambda there: {"name": "Red truck"},
    "forecast": _weather,
    "member-edit": lambda there: {"name": "Wren Idle"},
    "member-wage": lambda there: {"wage": "31.50"},
    "instruction-new": _sheet,
    "project-kinds": lambda there: {"kinds": ["silicone", "vinyl-fin"]},
    "sheet-age": lambda there: {"months": "12"},
    "usual-kinds": lambda there: {"kinds": ["silicone", "vinyl-fin"]},
    "house-copy": lambda there: {"code": "COPY-1", "name": "Lot 2"},
    "house-create": lambda there: {"code": "NEW-1", "name": "Lot 3"},
    "house-edit": lambda there: {"name": "Lot at the bend"},
    "elevation": lambda there: {"name": "Back", "framing_ready": "on"},
    "need-dates": lambda there: {f"day-{ElevationFactory(house=there.thing('house')).pk}": "2026-06-09"},
    "opening-create": lambda there: {
        "mark": "W90",
        "elevation": "Front",
        "unit_width": "36",
        "unit_height": "60",
    },
    "opening-edit": lambda there: {"unit_width": "30", "ro_width": "30 1/2"},
    "work-done": lambda there: {"key": "tap", "opening": there.thing("opening").pk, "steps": "check"},
    "windows-count": _ticked,
    "windows-accept": lambda there: _ticked(there, counted=True),
    "window-label": lambda there: {"width": "36", "height": "60"},
    "window-damage": lambda there: _here(there, what="the glass is cracked"),
    "window-send-back": lambda there: _here(there, why="the frame is bent"),
    "order-issue": _issued,
    "order-receive": _came,
    "order-send": _reachable,
    "order-acknowledge": lambda there: {"note": "Comes on Tuesday."},
    "order-cancel": lambda there: {"reason": "The house stopped."},
    "supplier-edit": lambda there: {"name": "Thistle and Sons"},
    "stock-count": _counted,
    "splices": lambda there: {"lap": "6"},
    "lot-correct": lambda there: {"pieces": "-2", "reason": "Two too many were written."},
    "offcut-new": lambda there: {"length": "14'-6\"", "name": "B-12"},
    "lot-take": lambda there: {"kind": "use", "pieces": "2"},
    "password": lambda there: {"old_password": PASSWORD, "password": "twelve letters and more"},
    "person": lambda there: {"role": "foreman"},
    "person-invite": lambda there: {"name": "Wren Idle", "email": "wren@setters.example", "role": "crew"},
    "price-list": lambda there: {"prices": SimpleUploadedFile("list.csv", PRICES)},
    "price-list-load": lambda there: {"seen": _price_list(there)},
    "price-add": lambda there: {"price": "12.50", "supplier": str(there.thing("order").supplier_id)},
    "project-create": lambda there: {"code": "NEW", "name": "Alder Yard", "builder": "Teasel Homes"},
    "project-edit": lambda there: {"name": "Alder Yard"},
    "project-specification": lambda there: {"weep_gap": "2", "note": "the maker's sheet"},
    "specification": lambda there: {"weep_gap": "2", "note": "the maker's sheet"},
    "schedule-match": lambda there: {"header-0": "elevation", "sheet": ""},
    "schedule-send": lambda there: {"schedule": SimpleUploadedFile("lot.csv", SCHEDULE)},
    "sign-in": lambda there: {"username": there.people["owner"].user.email, "password": PASSWORD},
}


def entry_for(row: Row, address: str, *, client: Client, there: World) -> tuple[Entry, set[str]]:
    """Return what is entered, and the names of all fields that the form has.

    The page's form as it stands, its empty fields filled where it asks for them, and our own on top.
    """
    own = OWN.get(row.route, lambda _: {})(there)
    page = client.get(address)
    form = (page.context or {}).get("form") if page.status_code == 200 else None
    entry: Entry = {}
    for field in form or []:
        value = field.value()
        if value in {None, ""} and field.field.required:
            value = _filled(field.field)
        if value not in {None, "", False}:
            entry[field.html_name] = "on" if value is True else str(value)
    return {**entry, **own}, {field.html_name for field in form or []} | set(own)


def _filled(field: forms.Field) -> str:
    if isinstance(field, forms.ChoiceField):
        return next((str(key) for key, _ in field.choices if key), "")
    if isinstance(field, forms.DateField):
        return "2026-06-09"
    if isinstance(field, forms.IntegerField):
        return str(max(1, getattr(field, "min_value", None) or 1))
    return "A1"
