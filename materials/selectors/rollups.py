"""What houses come to, kept or computed: always what holds now, and nothing is written."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db.models import TextField
from django.db.models.functions import Cast

from materials.catalogue.kept import totals_of_plain
from materials.catalogue.totals import Totals, hashes_of, total_up
from materials.models import KeptRollUp
from openings.selectors import InForce, fingerprints, geometries_by_house, specifications_in_force
from openings.takeoff.tally import tally_houses
from projects.models import Company, House


@dataclass(frozen=True, slots=True)
class RollUps:
    """The totals of houses by primary key, in the given order.

    `made` holds, for the houses whose kept totals are missing or stale, the hash to keep the new ones under.
    """

    totals: Mapping[int, Totals]
    made: Mapping[int, str]


def roll_ups_of(
    company: Company, houses: Sequence[House], in_force: Mapping[int, InForce] | None = None
) -> RollUps:
    """Return what each of the houses comes to. Each comes with its project; five queries at most.

    `in_force` are the projects' specifications, for who has read them already.

    The hashes are read before what they stand for: should an opening change meanwhile, what was made carries
    a hash that never fits again.
    """
    if in_force is None:
        projects = {house.project_id: house.project for house in houses}
        in_force = specifications_in_force(list(projects.values()))
    hashes = _hashes(company, houses, in_force)
    kept = _kept(company, hashes)
    made = _made(company, [house for house in houses if house.pk not in kept], in_force)
    found = kept | made
    return RollUps({pk: found[pk] for pk in hashes}, {pk: hashes[pk] for pk in made})


def _hashes(company: Company, houses: Sequence[House], in_force: Mapping[int, InForce]) -> dict[int, str]:
    changes = fingerprints(company, houses)
    found: dict[int, str] = {}
    for project, of_project in _by_project(houses).items():
        specification = in_force[project].specification
        found |= hashes_of({house.pk: changes[house.pk] for house in of_project}, specification)
    return {house.pk: found[house.pk] for house in houses}


def _kept(company: Company, hashes: Mapping[int, str]) -> dict[int, Totals]:
    # as text, for builders repeat their plans: what is the same text need be read only once
    rows = KeptRollUp.objects.of(company).filter(house__in=hashes).annotate(text=Cast("totals", TextField()))
    fitting = {
        house: text
        for house, input_hash, text in rows.values_list("house_id", "input_hash", "text")
        if input_hash == hashes[house]
    }
    totals = {text: totals_of_plain(json.loads(text)) for text in set(fitting.values())}
    return {house: totals[text] for house, text in fitting.items()}


def _made(company: Company, houses: Sequence[House], in_force: Mapping[int, InForce]) -> dict[int, Totals]:
    if not houses:
        return {}
    counted = geometries_by_house(company, houses)
    made: dict[int, Totals] = {}
    for project, of_project in _by_project(houses).items():
        specification = in_force[project].specification
        # builders repeat their plans: houses with the same openings are added up once
        plans = {house.pk: frozenset(counted[house.pk].items()) for house in of_project}
        first = {plan: counted[pk] for pk, plan in plans.items()}
        tallies = tally_houses(first.values(), specification)
        totals = {plan: total_up(tally, specification) for plan, tally in zip(first, tallies, strict=True)}
        made |= {pk: totals[plan] for pk, plan in plans.items()}
    return made


def _by_project(houses: Sequence[House]) -> dict[int, list[House]]:
    found: dict[int, list[House]] = {}
    for house in houses:
        found.setdefault(house.project_id, []).append(house)
    return found
