"""When must be ordered for a day, and when does an order come: working days Monday to Friday. Pure."""

from __future__ import annotations

from datetime import date, timedelta

from materials.ordering.problem import Supplier

ONE_DAY = timedelta(days=1)
SATURDAY = 5


def is_working_day(day: date, supplier: Supplier) -> bool:
    """Return whether `supplier` works on `day`."""
    return day.weekday() < SATURDAY and day not in supplier.holidays


def in_by(needed: date, supplier: Supplier) -> date:
    """Return the last working day before `needed`: what is used in the morning came the evening before."""
    return _worked_back(needed - ONE_DAY, supplier)


def order_by(needed: date, supplier: Supplier) -> date:
    """Return the last day to order on for the morning of `needed`."""
    day = in_by(needed, supplier)
    for _ in range(supplier.lead_days):
        day = _worked_back(day - ONE_DAY, supplier)
    return day


def arrival(ordered: date, supplier: Supplier) -> date:
    """Return the day whose evening sees an order of the day `ordered` arrive.

    An order on a day off is read on the next working day.
    """
    day = _worked_on(ordered, supplier)
    for _ in range(supplier.lead_days):
        day = _worked_on(day + ONE_DAY, supplier)
    return day


def _worked_back(day: date, supplier: Supplier) -> date:
    while not is_working_day(day, supplier):
        day -= ONE_DAY
    return day


def _worked_on(day: date, supplier: Supplier) -> date:
    while not is_working_day(day, supplier):
        day += ONE_DAY
    return day
