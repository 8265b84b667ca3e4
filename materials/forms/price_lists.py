"""The forms of a price list: the file, and the last word on what it says."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from django import forms
from django.core import signing
from django.core.files.uploadedfile import UploadedFile

from materials.pricelist.read import ListedPrice
from openings.schedule.limits import MAX_BYTES
from projects.errors import BadValue
from projects.forms.plain import PlainForm

SALT = "price list"
ONE_DAY = 86_400


class PriceListForm(PlainForm):
    """The supplier's file."""

    prices = forms.FileField(
        label="Price list",
        help_text="CSV or XLSX: material, pack, price; also valid from, source, and from packs for breaks.",
        widget=forms.FileInput(attrs={"accept": ".csv,.txt,.tsv,.xlsx"}),
    )

    def clean_prices(self) -> UploadedFile:
        """Return the file. Refuses one that is larger than the limit before it is read."""
        file: UploadedFile = self.cleaned_data["prices"]
        if file.size is not None and file.size > MAX_BYTES:
            raise forms.ValidationError("The file is larger than 20 MB. Split it and send the parts.")
        return file


class LoadForm(PlainForm):
    """What was seen is what is loaded: the list travels with the page, signed, for a day at most."""

    seen = forms.CharField(widget=forms.HiddenInput)
    keep_good_rows = forms.BooleanField(
        label="Load the good rows, leave the refused ones out", required=False
    )


def sealed(supplier: int, name: str, prices: tuple[ListedPrice, ...], *, refused: int) -> str:
    """Return a list as a page carries it: readable, but not to be changed."""
    rows = [
        [p.row, p.material, p.pack, p.cents, p.valid_from and p.valid_from.isoformat(), p.source, p.breaks]
        for p in prices
    ]
    told = {"supplier": supplier, "name": name, "rows": rows, "refused": refused}
    return signing.dumps(told, salt=SALT, compress=True)


def unsealed(text: str, *, supplier: int) -> tuple[str, tuple[ListedPrice, ...], int]:
    """Return a list's name, its prices, and how many rows were refused. Raises BadValue for an old page."""
    try:
        told = signing.loads(text, salt=SALT, max_age=ONE_DAY)
    except signing.BadSignature:
        told = {}
    if told.get("supplier") != supplier:
        raise BadValue(problem="This preview is too old to load.", remedy="Send the price list again.")
    return told["name"], tuple(_prices(told["rows"])), told["refused"]


def _prices(rows: list[list[Any]]) -> Iterator[ListedPrice]:
    for row, material, pack, cents, day, source, breaks in rows:
        since = date.fromisoformat(day) if day else None
        steps = tuple((packs, step) for packs, step in breaks)
        yield ListedPrice(row, material, pack, cents, since, source, steps)
