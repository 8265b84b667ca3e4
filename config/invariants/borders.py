"""What must hold between rows: no company points into another, no crew is in two places, no trigger lacks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from django.db import connection, models
from django.db.models import Count, Exists, F, OuterRef

from config.invariants.report import Broken, Search, searched
from crews.models import Assignment
from projects import triggers
from projects.models import UNPLACED, Company, Device, Membership, Owned, User
from projects.sessions import is_on_site

WHOLE = (models.IntegerField, models.ForeignKey, models.AutoField)


def stay_inside(company: Company) -> Search:
    """I10: every reference of the company's rows is to a row, or a person, of the company."""
    return searched(
        (f"{model._meta.label}.{field.name}", _strays(model, field, company))
        for model in triggers.owned_models()
        for field in model._meta.concrete_fields
        if isinstance(field, models.ForeignKey) and field.related_model is not Company
    )


def are_in_one_place(company: Company) -> Search:
    """I9: a crew's elevations of a day have places of their own, and an elevation one crew a day."""
    sent = Assignment.objects.of(company).order_by()
    days = sent.values("crew__code", "date").annotate(
        times=Count("id"), places=Count("position", distinct=True)
    )
    faces = sent.values("elevation", "elevation__name", "date").annotate(times=Count("crew", distinct=True))
    return searched(
        [
            *(
                (
                    f"crew {day['crew__code']} on {day['date']}",
                    ["is at two elevations at once"] if day["times"] != day["places"] else [],
                )
                for day in days
            ),
            *(
                (
                    f"elevation {face['elevation__name']} on {face['date']}",
                    _of_face(face["elevation__name"], face["times"]),
                )
                for face in faces
            ),
        ]
    )


def ask_at_the_desk(company: Company) -> Search:
    """No phone of an owner or office manager stays signed in."""
    people = Membership.objects.of(company).filter(active=True).select_related("user").order_by("pk")
    staying = Device.objects.filter(ended_at=None).values_list("user", flat=True)
    theirs = set(staying.filter(user__memberships__company=company))
    return searched(
        (person.name, ["stays signed in on a phone"] if person.user_id in theirs else [])
        for person in people
        if not is_on_site(person.role)
    )


def all_triggers_are_there() -> Search:
    """Every trigger that the models ask for is in the database, and no other."""
    wanted = {trigger.full_name for trigger in triggers.wanted()}
    there = set(triggers.installed())
    broken = [
        *(Broken(name, "is missing: run manage.py migrate") for name in sorted(wanted - there)),
        *(Broken(name, "is none of ours") for name in sorted(there - wanted)),
    ]
    return Search(len(wanted), tuple(broken))


def are_whole_numbers(company: Company) -> Search:
    """I8: what is counted, measured or paid is a whole number in the database; SQLite would keep anything."""
    if connection.vendor != "sqlite":
        return Search(0, ())
    return searched((model._meta.label, _parts(model, company)) for model in triggers.owned_models())


def _strays(model: type[Owned], field: models.ForeignKey, company: Company) -> Iterator[str]:
    rows = model.objects.of(company).filter(**{f"{field.name}__isnull": False}).order_by()
    if field.related_model is User:
        here = Membership.objects.filter(company=company, user=OuterRef(field.attname))
        astray = rows.exclude(Exists(here))
    elif isinstance(field.related_model, type) and issubclass(field.related_model, Owned):
        astray = rows.exclude(**{f"{field.name}__company": F("company")})
    else:
        return
    for pk in astray.values_list("pk", flat=True):
        yield f"row {pk} points to another company"


def _of_face(name: str, crews: int) -> Iterable[str]:
    if crews > 1:
        yield f"has {crews} crews"
    if name == UNPLACED:
        yield "is no face that a crew can find"


def _parts(model: type[Owned], company: Company) -> Iterator[str]:
    columns = [str(field.column) for field in model._meta.concrete_fields if isinstance(field, WHOLE)]
    quoted, table = connection.ops.quote_name, model._meta.db_table
    odd = " OR ".join(f"typeof({quoted(column)}) NOT IN ('integer', 'null')" for column in columns)
    query = f"SELECT id FROM {quoted(table)} WHERE company_id = %s AND ({odd})"  # noqa: S608  # names of ours
    with connection.cursor() as cursor:
        cursor.execute(query, [company.pk])
        for (pk,) in cursor.fetchall():
            yield f"row {pk} holds a part of a whole number"
