"""What an opening's cost follows from: materials, prices, step minutes, wages, shares and charges. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from projects.errors import BadValue
from projects.quantities.money import Money

Number = int | Fraction


@dataclass(frozen=True, slots=True)
class MaterialUse:
    """What one opening takes of one material, in the unit of its price; `basis` says where it comes from."""

    material: str
    quantity: Number
    basis: str = ""

    def __post_init__(self) -> None:
        """Raise BadValue for a negative quantity."""
        _check_not_negative(self.quantity, f"The quantity of {self.material}")


@dataclass(frozen=True, slots=True)
class StepTime:
    """One step's minutes on one opening, done by `people` together."""

    step: str
    minutes: Number
    people: int

    def __post_init__(self) -> None:
        """Raise BadValue for negative minutes or people."""
        _check_not_negative(self.minutes, f"The time of {self.step}")
        _check_not_negative(self.people, f"The people of {self.step}")

    @property
    def person_minutes(self) -> Number:
        """Return minutes x people."""
        return self.minutes * self.people


@dataclass(frozen=True, slots=True)
class Charge:
    """A cost of one opening by itself, such as an allowance for call-backs."""

    name: str
    amount: Money
    basis: str = ""


@dataclass(frozen=True, slots=True)
class OpeningWork:
    """One opening: its materials, steps and charges; a material or step is there once."""

    mark: str
    materials: tuple[MaterialUse, ...] = ()
    steps: tuple[StepTime, ...] = ()
    charges: tuple[Charge, ...] = ()

    def __post_init__(self) -> None:
        """Raise BadValue where a name repeats."""
        _check_once((use.material for use in self.materials), self.mark)
        _check_once((step.step for step in self.steps), self.mark)
        _check_once((charge.name for charge in self.charges), self.mark)


@dataclass(frozen=True, slots=True)
class MaterialPrice:
    """A pack of `pack_size` units for `pack_price`.

    `paid` is what the house's whole packs and waste cost; what its openings do not use of it is shared over
    them. None: only what is used is charged.
    """

    material: str
    unit: str
    pack_size: Number
    pack_price: Money
    paid: Money | None = None

    def __post_init__(self) -> None:
        """Raise BadValue for a pack of nothing."""
        if self.pack_size <= 0:
            raise BadValue(
                problem=f"A pack of {self.material} holds nothing.", remedy="Give its size, above 0."
            )

    @property
    def cents_per_unit(self) -> Fraction:
        """Return the price of one unit in cents, exactly."""
        return Fraction(self.pack_price.cents) / Fraction(self.pack_size)


@dataclass(frozen=True, slots=True)
class CrewRate:
    """What a person's hour costs: the crew's mean wage and the burden on it (0.40 is 40 %)."""

    wages: tuple[Money, ...]
    burden: Fraction

    def __post_init__(self) -> None:
        """Raise BadValue for a crew of nobody or a negative burden."""
        if not self.wages:
            raise BadValue(problem="A crew without wages has no rate.", remedy="Give a wage per person.")
        _check_not_negative(self.burden, "The burden")

    @property
    def cents_per_minute(self) -> Fraction:
        """Return the burdened cost of one person's minute in cents, exactly."""
        mean = Fraction(sum(wage.cents for wage in self.wages), len(self.wages))
        return mean * (1 + self.burden) / 60


@dataclass(frozen=True, slots=True)
class DayShare:
    """Of `day` paid minutes, `set_up` go to set-up, truck and clean-up; the rest carries them."""

    day: int = 480
    set_up: int = 105

    def __post_init__(self) -> None:
        """Raise BadValue where nothing is left to work."""
        if not 0 <= self.set_up < self.day:
            raise BadValue(
                problem=f"Set-up takes {self.set_up} of {self.day} minutes.",
                remedy="Leave part of the day to work.",
            )

    @property
    def per_worked_minute(self) -> Fraction:
        """Return the set-up minutes that each worked minute carries: 105 / 375 by default."""
        return Fraction(self.set_up, self.day - self.set_up)


@dataclass(frozen=True, slots=True)
class SharedCharge:
    """A cost of the house, such as a lift's rental, shared over openings by whole weights."""

    name: str
    total: Money
    weights: tuple[tuple[str, int], ...]
    basis: str = ""

    def __post_init__(self) -> None:
        """Raise BadValue where nobody or a negative weight shares."""
        if not self.weights:
            raise BadValue(
                problem=f"{self.name} is shared by no opening.", remedy="Name the openings that need it."
            )
        for mark, weight in self.weights:
            _check_not_negative(weight, f"The weight of {mark} in {self.name}")


@dataclass(frozen=True, slots=True)
class HouseWork:
    """All that a house's cost follows from."""

    openings: tuple[OpeningWork, ...]
    crew: CrewRate
    prices: tuple[MaterialPrice, ...] = ()
    day: DayShare = DayShare()
    shared: tuple[SharedCharge, ...] = ()
    currency: str = "USD"

    def __post_init__(self) -> None:
        """Raise BadValue where marks repeat, a price is missing or a currency is foreign."""
        _check_once((opening.mark for opening in self.openings), "the house")
        _check_once((price.material for price in self.prices), "the price list")
        own = {charge.name for opening in self.openings for charge in opening.charges}
        _check_once((*own, *(charge.name for charge in self.shared)), "the charges")
        marks = {opening.mark for opening in self.openings}
        priced = {price.material for price in self.prices}
        for opening in self.openings:
            for use in opening.materials:
                _check_known(use.material, priced, f"{opening.mark} uses {use.material}, which has no price.")
        for charge in self.shared:
            for mark, _ in charge.weights:
                _check_known(mark, marks, f"{charge.name} is shared by {mark}, which is not in the house.")
        for money in self._amounts():
            _check_known(money.currency, {self.currency}, f"{money.as_text} is in {money.currency}.")

    def _amounts(self) -> Iterator[Money]:
        yield from self.crew.wages
        yield from (price.pack_price for price in self.prices)
        yield from (price.paid for price in self.prices if price.paid is not None)
        yield from (charge.amount for opening in self.openings for charge in opening.charges)
        yield from (charge.total for charge in self.shared)


def _check_not_negative(value: Number, what: str) -> None:
    if value < 0:
        raise BadValue(problem=f"{what} is below 0.", remedy="Give 0 or more.", value=value)


def _check_once(names: Iterable[str], where: str) -> None:
    for name, times in Counter(names).items():
        if times > 1:
            raise BadValue(
                problem=f"{name} stands {times} times in {where}.", remedy="Add them up to one.", value=name
            )


def _check_known(value: str, known: set[str], problem: str) -> None:
    if value not in known:
        raise BadValue(problem=problem, remedy=f"Known here: {', '.join(sorted(known))}.", value=value)
