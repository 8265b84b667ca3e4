"""What holds for every opening: mirrored, widened, added, removed, summed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from openings.methods.load import load_methods
from openings.takeoff.compute import take_off_house
from openings.takeoff.demand import Demand, Need, demand_of
from openings.takeoff.geometry import geometry_of
from openings.takeoff.opening import OpeningInput
from openings.takeoff.reckoner import Reckoner
from openings.takeoff.specification import DEFAULT, Specification
from projects.quantities.length import NM_PER_INCH, Length

SIXTEENTHS = NM_PER_INCH // 16
sizes = st.integers(6 * 16, 240 * 16).map(lambda parts: Length(parts * SIXTEENTHS))
gaps = st.integers(0, 3 * 16).map(lambda parts: Length(parts * SIXTEENTHS))
methods = st.sampled_from(sorted(load_methods()))


@st.composite
def openings(draw: st.DrawFn) -> OpeningInput:
    """Any opening that can be taken off, with any of its choices in the row."""
    width, height, method = draw(sizes), draw(sizes), draw(methods)
    return OpeningInput(
        mark="W1",
        elevation="Front",
        unit_width=width,
        unit_height=height,
        ro_width=width + draw(gaps),
        ro_height=height + draw(gaps),
        fin=draw(st.sampled_from([None, "fixed", "folding"])),
        corners=draw(st.sampled_from([None, "welded", "open"])),
        method=method,
        over_fin=draw(st.sampled_from([None, *load_methods()[method].over_fin_allowed])),
        pan=draw(st.sampled_from([None, "membrane", "stretch", "rigid", "none"])),
        mulls=draw(st.integers(0, 3)),
        fastener_corner=draw(st.none() | st.integers(1, 12).map(Length.inches)),
        fastener_max=draw(st.none() | st.integers(4, 24).map(Length.inches)),
        head_fasteners=draw(st.sampled_from([None, "yes", "no", "loose"])),
    )


specifications = st.builds(
    replace,
    st.just(DEFAULT),
    head_strip=st.booleans(),
    drip_cap=st.booleans(),
    air_seal=st.sampled_from(["foam", "rod and bead", "none"]),
    bead_offset=gaps,
    jamb_wrap=gaps,
)


def lengths_and_counts(demand: Demand) -> dict[tuple[str, str], int]:
    """Return the demand without its sizes: total length of strips, tapes and sticks, else the amount."""
    total: Counter[tuple[str, str]] = Counter()
    for need, amount in demand.items():
        total[need.kind, need.part] += amount * (need.length_nm or 1)
    return total


def pieces(demand: Demand) -> dict[tuple[str, str], int]:
    """Return how many pieces of each kind and part."""
    total: Counter[tuple[str, str]] = Counter()
    for need, amount in demand.items():
        total[need.kind, need.part] += amount
    return total


def demand_of_one(opening: OpeningInput, specification: Specification) -> Demand:
    """Return what one opening needs."""
    return Reckoner(specification).demand(geometry_of(opening))


@settings(deadline=None)
@given(openings(), specifications)
def test_mirrored_opening_needs_the_same(opening: OpeningInput, specification: Specification) -> None:
    lines = Reckoner(specification).lines(geometry_of(opening))
    swap = {"left jamb": "right jamb", "right jamb": "left jamb"}
    mirrored = [line._replace(zone=swap.get(line.zone, line.zone)) for line in lines]

    assert Counter(mirrored) == Counter(lines)
    assert demand_of(mirrored) == demand_of(lines)


@settings(deadline=None)
@given(openings(), specifications, st.integers(1, 64), st.booleans())
def test_widening_never_needs_less(
    opening: OpeningInput, specification: Specification, by: int, upwards: bool
) -> None:
    more = Length(by * SIXTEENTHS)
    grown = (
        replace(opening, unit_height=opening.unit_height + more, ro_height=opening.ro_height + more)
        if upwards
        else replace(opening, unit_width=opening.unit_width + more, ro_width=opening.ro_width + more)
    )

    before, after = demand_of_one(opening, specification), demand_of_one(grown, specification)

    for measured in (lengths_and_counts, pieces):
        smaller, larger = measured(before), measured(after)
        for key, amount in smaller.items():
            if key[0] in ("sealant", "foam") and measured is pieces:
                continue
            assert larger[key] >= amount, key


@settings(deadline=None)
@given(st.lists(openings(), max_size=6), specifications, st.integers(0, 6))
def test_demand_of_a_set_is_the_sum_of_demands(
    rows: list[OpeningInput], specification: Specification, cut: int
) -> None:
    marked = [replace(row, mark=f"W{place}") for place, row in enumerate(rows)]

    whole = take_off_house(marked, specification).demand
    parts = [take_off_house(some, specification).demand for some in (marked[:cut], marked[cut:])]

    assert whole == added(*parts)
    assert whole == added(*(demand_of_one(row, specification) for row in marked))


@settings(deadline=None)
@given(st.lists(openings(), min_size=1, max_size=6), specifications)
def test_adding_an_opening_never_lowers_and_removing_it_restores(
    rows: list[OpeningInput], specification: Specification
) -> None:
    without = take_off_house(rows[:-1], specification).demand
    with_it = take_off_house(rows, specification).demand
    again = take_off_house(rows[:-1], specification).demand

    assert all(with_it[need] >= amount for need, amount in without.items())
    assert again == without


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(openings(), st.integers(1, 40)), max_size=5), specifications)
def test_roll_up_of_counts_equals_one_by_one(
    counted: list[tuple[OpeningInput, int]], specification: Specification
) -> None:
    rows = [row for row, count in counted for _ in range(count)]

    together = take_off_house(rows, specification).demand

    single = added(*(demand_of_one(row, specification) for row, count in counted for _ in range(count)))
    assert together == single


@settings(deadline=None)
@given(openings(), specifications)
def test_screws_stand_inside_the_frame_and_mirror_each_other(
    opening: OpeningInput, specification: Specification
) -> None:
    lines = Reckoner(specification).lines(geometry_of(opening))

    for line in lines:
        if line.kind == "fasteners":
            positions = line.positions_nm
            assert list(positions) == sorted(set(positions))
            assert len(positions) == line.count
            assert 0 < positions[0] <= positions[-1] < line.side_nm
            assert all(
                abs(low + high - line.side_nm) <= 1
                for low, high in zip(positions, reversed(positions), strict=True)
            )


def added(*demands: Mapping[Need, int]) -> dict[Need, int]:
    """Return the sum, the simple way."""
    total: Counter[Need] = Counter()
    for demand in demands:
        total.update(demand)
    return dict(total)
