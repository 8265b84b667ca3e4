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
    """One material's need now against what was ordered, in base units.

    `to_cut` is what must be cut anew though as much was ordered: strips that were ordered too short. Both
    `to_order` and `surplus` are above 0 only then.
    """

    material: str
    ordered: int
    needed: int
    to_cut: int = 0

    @property
    def to_order(self) -> int:
        """Return what the orders lack."""
        return max(self.to_cut, self.needed - self.ordered)

    @property
    def surplus(self) -> int:
        """Return what was ordered and is no longer needed, packs' remainder not included."""
        return self.ordered + self.to_order - self.needed


def orders_by_supplier(problem: PurchaseProblem, plan: PurchasePlan) -> tuple[SupplierOrder, ...]:
    """Return one order per supplier that sells any of the plan's lines, by supplier key."""
    orders = []
    for supplier in sorted(problem.suppliers, key=lambda supplier: supplier.key):
        lines = tuple(line for line in plan.lines if line.pack.supplier == supplier.key)
        if lines:
            total = Money(sum(line.total.cents for line in lines), problem.currency)
            orders.append(SupplierOrder(supplier, lines, total, min(line.order_by for line in lines)))
    return tuple(orders)


def differences(
    ordered: Iterable[tuple[str, int]], needed: Mapping[str, int], to_cut: Mapping[str, int] | None = None
) -> tuple[Difference, ...]:
    """Return what to order and what is too much, by material, where a need changed after the order.

    `ordered` are (material, quantity) in base units, several per material allowed; `needed` is the same
    demand as it stands now; `to_cut` what must be cut anew. Materials that match exactly are left out.
    """
    bought: Counter[str] = Counter()
    for material, quantity in ordered:
        bought[material] += quantity
    found = (
        Difference(material, bought[material], needed.get(material, 0), (to_cut or {}).get(material, 0))
        for material in sorted(bought.keys() | needed.keys())
    )
    return tuple(each for each in found if each.ordered != each.needed or each.to_cut)
