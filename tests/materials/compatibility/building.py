"""Instruction sheets and kinds in use, as tests need them."""

from __future__ import annotations

import datetime as dt
from itertools import count

from materials import services
from materials.models import InstructionSheet

PDF = b"%PDF-1.4\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer << /Root 1 0 R >>\n%%EOF\n"
FITTING = ("stp-hybrid", "butyl-membrane", "vinyl-fin", "spun-bonded")
"""Every pair of these stands in the table with yes."""
_numbers = count(1)


def a_sheet(by, *, material="membrane-9in", dated=dt.date(2026, 3, 2), **values) -> InstructionSheet:
    """Return a sheet with a file of its own."""
    content = PDF.replace(b"1 0 obj", b"%d 0 obj" % next(_numbers), 1)
    told = {"title": "Flashing membrane, sheet 7", "content": content, **values}
    return services.add_sheet(by=by, material=material, dated=dated, **told)
