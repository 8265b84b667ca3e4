"""Suppliers and drafts for tests."""

from __future__ import annotations

import datetime as dt

import factory

from materials.models import OrderLine, PurchaseOrder, Supplier
from tests.factories.people import CompanyFactory


class SupplierFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Supplier

    company = factory.SubFactory(CompanyFactory)
    code = factory.Sequence(lambda number: f"SUPPLY-{number}")
    name = factory.Sequence(lambda number: f"Thistle Supply {number}")


class DraftFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = PurchaseOrder
        skip_postgeneration_save = True

    company = factory.SubFactory(CompanyFactory)
    supplier = factory.SubFactory(SupplierFactory, company=factory.SelfAttribute("..company"))
    week = dt.date(2026, 6, 8)
    deliver_by = dt.date(2026, 6, 7)
    input_hash = "0" * 64
    rules_version = "1"
    total_cents = 4200

    @factory.post_generation
    def line(self, create, extracted, **_):
        if create:
            OrderLine.objects.create(
                company=self.company,
                order=self,
                position=1,
                material="membrane-9in",
                description="Flashing membrane 9 in",
                need=77 * 25_400_000,
                unit="length",
                pack="roll-75ft",
                pack_size=900 * 25_400_000,
                packs=1,
                unit_price_cents=4200,
                total_cents=4200,
            )
