"""One small order of two lines, worked by hand: 2 rolls at 29.00 and 4 cartridges at 9.00 make 94.00."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta, timezone
from typing import Any

from materials.exchange.order import Line, Order, Party
from projects.quantities.money import Money

EASTERN = timezone(timedelta(hours=-4))
BUYER = Party("Setters & Sons", ("4 Mill Yard",), "Dana Whitlow", "dana@setters.example")
SELLER = Party("Thistle Supply", ("12 Quarry Road", "Harrow"), "", "orders@thistle.example")
LINES = (
    Line(
        position=1,
        material="membrane-9in",
        description="Flashing membrane 9 in",
        pack="roll of 50 ft",
        unit="XRO",
        packs=2,
        price=Money(29_00),
        total=Money(58_00),
    ),
    Line(
        position=2,
        material="sealant",
        description="Sealant",
        pack="cartridge of 10.1 fl oz",
        unit="XCQ",
        packs=4,
        price=Money(9_00),
        total=Money(36_00),
    ),
)
ORDER = Order(
    number="2026-001",
    issued=datetime(2026, 6, 1, 21, 30, 15, 999, tzinfo=EASTERN),
    buyer=BUYER,
    seller=SELLER,
    deliver_to="Lot 1, Harrow Lane",
    deliver_by=date(2026, 6, 8),
    week=date(2026, 6, 8),
    houses=("LOT-1", "LOT-2"),
    lines=LINES,
    total=Money(94_00),
    freight=Money(0),
)

# Names that break programs; every form of the order brings them over as they are.
HOSTILE = (
    'Bolt & "Nut" <Supply> \'n Co',
    "]]><script>alert(1)</script>",
    "&lt;already&gt; &amp; escaped",
    "=1+1",
    '=HYPERLINK("http://evil.example/","Open")',
    "@SUM(1+1); -2",
    "semi;colon, comma",
    "\u202eylppuS\u202c \u200fשלום\u200e",  # overridden direction, Hebrew, marks
    "e\u0301 ﷽ 𝔖upply 🪟",  # a joined accent, a wide letter, letters beyond the first plane
    "Zero\u200bwidth \u00a0space",
    "{{ 7*7 }} ${7*7} %s",
)
# What no form can carry, each beside a letter that it can.
REFUSED = ("a\x00b", "a\x0bb", "a\x1bb", "a\nb", "a\rb", "a\tb", "a\x85b", "a\u2028b", "a\ufffeb", "a\ud800b")


def named(text: str, **values: Any) -> Order:
    """Return the order with `text` wherever somebody may type."""
    return replace(
        ORDER,
        buyer=replace(BUYER, name=text, address=(text,), contact=text),
        seller=replace(SELLER, name=text),
        deliver_to=text,
        lines=(replace(LINES[0], description=text, pack=text), LINES[1]),
        **values,
    )


def draft() -> Order:
    return replace(ORDER, number="", issued=None)
