"""What a unit weighs and how many people set it. Pure."""

from __future__ import annotations

from fractions import Fraction

from openings.methods.steps import Pace
from openings.takeoff.lifting_equation import Lift, recommended_limit
from openings.takeoff.opening import OpeningInput
from projects.quantities.mass import Mass, nearest

GLASS_KG_PER_M3 = 2500
CUBIC_NM_PER_CUBIC_M = 10**27
UG_PER_KG = 10**9
IDEAL_LIMIT = recommended_limit(Lift())
PEOPLE = 2
PEOPLE_FOR_HEAVY = 3


def weight_of(opening: OpeningInput, frame_share: Fraction) -> Mass | None:
    """Return the unit's weight: as given, else glass x (1 + `frame_share`), else None.

    Panes lie over the unit's whole size. Source: 2500 kg/m3, weight tables (P); frame 20 to 40 % (C).
    """
    if opening.weight is not None:
        return opening.weight
    if opening.glass is None:
        return None
    whole, of = frame_share.numerator + frame_share.denominator, frame_share.denominator
    return Mass(nearest(glass_weight(opening).ug * whole, of))


def glass_weight(opening: OpeningInput) -> Mass:
    """Return the weight of the panes alone, 0 where none are given."""
    if opening.glass is None:
        return Mass(0)
    volume_nm3 = (
        opening.unit_width.nm * opening.unit_height.nm * opening.glass.thickness.nm * opening.glass.panes
    )
    return Mass(nearest(volume_nm3 * GLASS_KG_PER_M3 * UG_PER_KG, CUBIC_NM_PER_CUBIC_M))


def people_to_set(weight: Mass | None, pace: Pace) -> int:
    """Return how many people set a unit: two, three above the company's limit; unknown weights two."""
    heavy = weight is not None and weight.ug > pace.three_above.ug
    return PEOPLE_FOR_HEAVY if heavy else PEOPLE


def lift_notice(weight: Mass | None, pace: Pace) -> str | None:
    """Return what is said of a unit above the company's limit, with what NIOSH allows one person at best."""
    if weight is None or not needs_lift(weight, pace):
        return None
    words = f"Weighs {weight.in_pounds:.0f} lb, above {pace.lift_above.in_pounds:.0f} lb: set it with a lift."
    people = people_to_set(weight, pace)
    if weight > Mass.pounds(people * IDEAL_LIMIT):
        words += f" By hand it is above NIOSH's {IDEAL_LIMIT} lb for each of {people}."
    return words


def needs_lift(weight: Mass | None, pace: Pace) -> bool:
    """Return whether the unit is above what the company lifts by hand."""
    return weight is not None and weight.ug > pace.lift_above.ug
