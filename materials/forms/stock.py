"""The forms of stock: what came, what was counted, found or taken, and how much must stay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django import forms

from materials.catalogue.counting import counted_in
from materials.catalogue.load import load_catalogue
from materials.models import OrderLine, Place
from materials.selectors.stock import LotShown
from materials.services import Came
from projects.forms.plain import PlainForm
from projects.models import House
from projects.quantities.money import Money

MOST = 1_000_000
LOOSE = "loose"


def key_field() -> forms.CharField:
    """Return the hidden field that makes a form sent twice count once."""
    return forms.CharField(widget=forms.HiddenInput, max_length=64)


def _day(label: str) -> forms.DateField:
    widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    return forms.DateField(label=label, required=False, widget=widget)


def _number(label: str, *, required: bool = False, least: int = 0) -> forms.IntegerField:
    widget = forms.NumberInput(attrs={"inputmode": "numeric"})
    return forms.IntegerField(label=label, required=required, min_value=least, max_value=MOST, widget=widget)


class ReceiveForm(PlainForm):
    """What came of each line of an order; a line that is left empty did not come."""

    key = key_field()
    note = forms.CharField(label="Note", max_length=200, required=False)
    lines: Sequence[OrderLine] = ()
    with_prices: bool = False
    currency: str = "USD"

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Make five fields per line, and one for the price for those who may see prices."""
        super().__init__(*args, **kwargs)
        for line in self.lines:
            self.fields |= {
                f"good-{line.pk}": _number("Good packs"),
                f"number-{line.pk}": forms.CharField(label="Lot number", max_length=64, required=False),
                f"day-{line.pk}": _day("Last good day"),
                f"damaged-{line.pk}": _number("Damaged packs"),
                f"wrong-{line.pk}": _number("Wrong packs"),
            }
            if self.with_prices:
                self.fields[f"price-{line.pk}"] = forms.DecimalField(
                    label="Price of a pack, where the note says another",
                    min_value=0,
                    max_digits=9,
                    decimal_places=2,
                    required=False,
                )
        self.order_fields(["key", *[name for name in self.fields if name not in {"key", "note"}], "note"])

    @classmethod
    def of(cls, lines: Sequence[OrderLine], *, with_prices: bool, currency: str) -> type[ReceiveForm]:
        """Return the form for an order's lines."""
        own = {"lines": lines, "with_prices": with_prices, "currency": currency}
        return type("ReceiveForm", (cls,), own)

    def groups(self) -> Iterator[tuple[OrderLine, list[forms.BoundField]]]:
        """Yield each line with its fields."""
        for line in self.lines:
            names = ("good", "number", "day", "damaged", "wrong", *(["price"] if self.with_prices else []))
            yield line, [self[f"{name}-{line.pk}"] for name in names]

    def came(self) -> list[Came]:
        """Return what was filled in."""
        given = self.cleaned_data
        return [
            Came(
                line=line.pk,
                good=given[f"good-{line.pk}"] or 0,
                damaged=given[f"damaged-{line.pk}"] or 0,
                wrong=given[f"wrong-{line.pk}"] or 0,
                number=given[f"number-{line.pk}"],
                last_good=given[f"day-{line.pk}"],
                price=None if price is None else Money.of(price, self.currency),
            )
            for line in self.lines
            for price in [given.get(f"price-{line.pk}")]
        ]


class CountForm(PlainForm):
    """How many pieces of each lot lie in the shop; what is left empty was not counted."""

    key = key_field()
    lots: Sequence[LotShown] = ()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Make a field per lot."""
        super().__init__(*args, **kwargs)
        for lot in self.lots:
            field = _number(f"{lot.name}, {lot.number}")
            field.help_text = f"In the ledger: {lot.heaps[0].told}."
            self.fields[f"lot-{lot.row.pk}"] = field

    @classmethod
    def of(cls, lots: Sequence[LotShown]) -> type[CountForm]:
        """Return the form for the lots of a place."""
        return type("CountForm", (cls,), {"lots": lots})

    def counted(self) -> Iterator[tuple[LotShown, int]]:
        """Yield the lots that were counted."""
        for lot in self.lots:
            pieces = self.cleaned_data[f"lot-{lot.row.pk}"]
            if pieces is not None:
                yield lot, pieces


class NewStockForm(PlainForm):
    """What was found in the shop without an order of ours."""

    key = key_field()
    pack = forms.ChoiceField(label="Material and pack")
    packs = _number("How many", required=True, least=1)
    number = forms.CharField(label="Lot number", max_length=64, required=False)
    last_good = _day("Last good day")

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer every pack of the catalogue, and loose pieces of what is counted by the piece."""
        super().__init__(*args, **kwargs)
        self.fields["pack"].choices = [  # type: ignore[attr-defined]
            choice
            for material in load_catalogue().materials.values()
            for choice in (
                *(
                    (f"{material.key}/{pack.label.key}", f"{material.name}, {pack.label.name}")
                    for pack in material.packs
                ),
                *([(f"{material.key}/{LOOSE}", f"{material.name}, loose")] * (material.unit == "pieces")),
            )
        ]

    @property
    def chosen(self) -> tuple[str, str]:
        """Return the keys of material and pack; the pack of loose pieces is empty."""
        material, _, pack = self.cleaned_data["pack"].partition("/")
        return material, "" if pack == LOOSE else pack


class OffcutForm(PlainForm):
    """A rest of a roll or stick that is worth keeping."""

    key = key_field()
    material = forms.ChoiceField(label="Material")
    length = forms.CharField(label="Length", max_length=40, help_text="Such as 14'-6\" or 174 1/2.")
    name = forms.CharField(
        label="What is written on it", max_length=64, help_text="So that it is found again, such as B-12."
    )

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer what is cut from rolls and sticks."""
        super().__init__(*args, **kwargs)
        self.fields["material"].choices = [  # type: ignore[attr-defined]
            (material.key, material.name)
            for material in load_catalogue().materials.values()
            if material.unit == "length"
        ]


class CorrectForm(PlainForm):
    """A line of the ledger that was wrong, set right by another."""

    key = key_field()
    place = forms.ChoiceField(label="Where")
    pieces = forms.IntegerField(
        label="How many more or fewer",
        min_value=-MOST,
        max_value=MOST,
        widget=forms.NumberInput(),
        help_text="Below 0 where too many were written: -3.",
    )
    reason = forms.CharField(label="What was wrong", max_length=200)
    heaps: Sequence[Place] = ()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer the places where the lot is, or was."""
        super().__init__(*args, **kwargs)
        self.fields["place"].choices = [  # type: ignore[attr-defined]
            (str(place.pk), str(place)) for place in self.heaps
        ]


class LevelForm(PlainForm):
    """How much of a material must stay on the shelf."""

    material = forms.ChoiceField(label="Material, and what is counted")
    pieces = _number("How many must stay", required=True)

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer every material, counted by its smallest pack."""
        super().__init__(*args, **kwargs)
        self.fields["pieces"].help_text = "0 takes the level away."
        self.fields["material"].choices = [  # type: ignore[attr-defined]
            (f"{material.key}/{size}", f"{material.name}, {told}")
            for material in load_catalogue().materials.values()
            for pack in [min(material.packs, key=lambda pack: pack.contains)]
            for _, size in [counted_in(pack)]
            for told in ["pieces" if size == 1 else pack.label.name]
        ]

    @property
    def chosen(self) -> tuple[str, int]:
        """Return the material's key and the level in base units."""
        key, _, size = self.cleaned_data["material"].partition("/")
        return key, int(size) * int(self.cleaned_data["pieces"])


class TakeForm(PlainForm):
    """What happened to pieces of a lot."""

    key = key_field()
    kind = forms.ChoiceField(label="What happens")
    pieces = _number("How many", required=True, least=1)
    place = forms.ChoiceField(label="From")
    to = forms.ChoiceField(label="To", required=False, help_text="Where they are moved to.")
    truck = forms.CharField(
        label="Another truck", max_length=64, required=False, help_text="By its crew's code, if not listed."
    )
    reason = forms.CharField(label="Reason", max_length=200, required=False)
    kinds: Sequence[tuple[str, str]] = ()
    heaps: Sequence[Place] = ()
    places: Sequence[Place] = ()
    houses: Sequence[House] = ()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer the places where the lot lies, and those where it can go."""
        super().__init__(*args, **kwargs)
        known = {place.house_id for place in self.places}
        choices = {
            "kind": self.kinds,
            "place": [(str(place.pk), str(place)) for place in self.heaps],
            "to": [
                ("", "nowhere"),
                *((f"place-{place.pk}", str(place)) for place in self.places),
                *((f"house-{row.pk}", f"house {row.code}") for row in self.houses if row.pk not in known),
            ],
        }
        for name, offered in choices.items():
            self.fields[name].choices = offered  # type: ignore[attr-defined]
