"""Which order goes to which supplier, and what has changed since it was issued. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from materials.ordering.plan import PurchaseLine, PurchasePlan
from materials.ordering.problem import PurchaseProblem, Supplier
from projects.quantities.money import Money


@dataclass(frozen=True, slots=True)
class SupplierOrder:
    """What one supplier is to send; `order_by` is the earliest of its lines' days."""

    supplier: Supplier
    lines: tuple[PurchaseLine, ...]
    total: Money
    order_by: date

    @property
    def missing(self) -> Money:
        """Return what the order lacks to the supplier's minimum."""
        lacking = self.supplier.minimum.cents - self.total.cents
        return Money(max(0, lacking), self.total.currency)


@dataclass(frozen=True, slots=True)
class Difference:
    """One material's need now against what was ordered, in base units; at most one of both is above 0."""

    material: str
    ordered: int
    needed: int

    @property
    def to_order(self) -> int:
        """Return what the orders lack."""
        return max(0, self.needed - self.ordered)

    @property
    def surplus(self) -> int:
        """Return what was ordered and is no longer needed, whole packs' remainder included."""
        return max(0, self.ordered - self.needed)


def orders_by_supplier(problem: PurchaseProblem, plan: PurchasePlan) -> tuple[SupplierOrder, ...]:
    """Return one order per supplier that sells any of the plan's lines, by supplier key."""
    orders = []
    for supplier in sorted(problem.suppliers, key=lambda supplier: supplier.key):
        lines = tuple(line for line in plan.lines if line.pack.supplier == supplier.key)
        if lines:
            total = Money(sum(line.total.cents for line in lines), problem.currency)
            orders.append(SupplierOrder(supplier, lines, total, min(line.order_by for line in lines)))
    return tuple(orders)


def differences(ordered: Iterable[tuple[str, int]], needed: Mapping[str, int]) -> tuple[Difference, ...]:
    """Return what to order and what is too much, by material, where a need changed after the order.

    `ordered` are (material, quantity) of the issued lines in base units, several per material allowed;
    `needed` is the same demand as it stands now. Materials that match exactly are left out.
    """
    bought: Counter[str] = Counter()
    for material, quantity in ordered:
        bought[material] += quantity
    found = (
        Difference(material, bought[material], needed.get(material, 0))
        for material in sorted(bought.keys() | needed.keys())
    )
    return tuple(difference for difference in found if difference.ordered != difference.needed)
