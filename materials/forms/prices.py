"""The forms of a price and of a supplier."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms

from materials.catalogue.load import load_catalogue
from materials.models import Supplier
from projects.forms.plain import PlainForm


class PriceForm(PlainForm):
    """What one pack costs at one supplier, from a day on."""

    supplier = forms.ChoiceField(label="Supplier")
    pack = forms.ChoiceField(label="Material and pack")
    price = forms.DecimalField(label="Price of one pack", min_value=0, max_digits=9, decimal_places=2)
    minimum_packs = forms.IntegerField(
        label="Fewest packs",
        min_value=1,
        max_value=100_000,
        required=False,
        help_text="Empty where one can be bought.",
    )
    breaks = forms.CharField(
        label="Price breaks",
        max_length=1000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What a pack costs where more are ordered, one a line: 12 at 8.50.",
    )
    valid_from = forms.DateField(
        label="Valid from", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    source = forms.CharField(
        label="Source", max_length=200, required=False, help_text="Such as the price list and its date."
    )
    suppliers: Sequence[Supplier] = ()

    def __init__(self, *args: object, **kwargs: object) -> None:
        """Offer the company's suppliers and every pack of the catalogue."""
        super().__init__(*args, **kwargs)
        self.fields["supplier"].choices = [  # type: ignore[attr-defined]
            (str(row.pk), row.name) for row in self.suppliers
        ]
        self.fields["pack"].choices = [  # type: ignore[attr-defined]
            (f"{material.key}/{pack.label.key}", f"{material.name}, {pack.label.name}")
            for material in load_catalogue().materials.values()
            for pack in material.packs
        ]

    @classmethod
    def of(cls, suppliers: Sequence[Supplier]) -> type[PriceForm]:
        """Return the form for a company's suppliers."""
        return type("PriceForm", (cls,), {"suppliers": suppliers})


class SupplierForm(PlainForm):
    """Where a supplier is reached, and on what terms it sells."""

    name = forms.CharField(label="Name", max_length=120)
    email = forms.CharField(
        label="E-mail address for orders",
        max_length=254,
        required=False,
        widget=forms.EmailInput(attrs={"autocomplete": "off"}),
    )
    address = forms.CharField(
        label="Address", max_length=1000, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
    lead_days = forms.IntegerField(label="Working days until it delivers", min_value=0, max_value=365)
    minimum = forms.DecimalField(
        label="Smallest order",
        min_value=0,
        max_digits=9,
        decimal_places=2,
        help_text="0 where there is none.",
    )
    freight = forms.DecimalField(
        label="Freight per order",
        min_value=0,
        max_digits=9,
        decimal_places=2,
        help_text="0 where there is none.",
    )
    holidays = forms.CharField(
        label="Days off",
        max_length=1500,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Working days on which nobody delivers or takes orders, one a line: 2026-07-03.",
    )


class NewSupplierForm(SupplierForm):
    """A supplier that is not known yet."""

    code = forms.CharField(
        label="Short name", max_length=32, help_text="Letters, digits and hyphens, such as RIDGEWAY."
    )
    field_order = ("code",)
