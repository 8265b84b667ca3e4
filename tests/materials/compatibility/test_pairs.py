"""Which kinds are used, who answers for a pair, and when he is asked anew; on both databases."""

from __future__ import annotations

import threading

import pytest
from django.db import IntegrityError, connection, transaction

from materials import services
from materials.models import PairTaken, UsedKinds
from materials.selectors.compatibility import pairs_of, table_page
from projects.errors import Archived, BadValue, NotAllowed, NotThere, StaleVersion
from projects.models import AuditEntry, Project
from tests.factories.houses import ProjectFactory
from tests.materials.compatibility.building import FITTING

pytestmark = pytest.mark.django_db
CLAD = ("stp-hybrid", "butyl-membrane", "clad-wood-fin", "integrated-sheathing")
# of these the table has no entry for membrane and fin, and asks the maker for sealant and fin
NO_ENTRY, ASKED = ("butyl-membrane", "clad-wood-fin"), ("stp-hybrid", "clad-wood-fin")


@pytest.fixture
def project(company):
    return ProjectFactory(company=company)


def kinds(by, project, *keys, version=None):
    return services.set_kinds(by=by, project=project, kinds=keys, version=version)


def take(by, project, pair=NO_ENTRY, *, person="Wren Idle", reason="The maker said yes on 3 March."):
    one, other = pair
    return services.take_on_pair(by=by, project=project, one=one, other=other, person=person, reason=reason)


def shown(project):
    return pairs_of(project.company, [project])[project.pk]


def waiting(project):
    return [pair.judged.keys for pair in shown(project).open]


def test_a_project_follows_the_company_until_it_has_kinds_of_its_own(manager, project):
    other = ProjectFactory(company=project.company)
    kinds(manager, None, *FITTING)
    kinds(manager, project, *CLAD)

    assert shown(project).is_own
    assert not shown(other).is_own
    assert waiting(other) == []
    assert waiting(project) == [ASKED, NO_ENTRY]

    kinds(manager, project)

    # none ticked: the company's again
    assert not shown(project).is_own
    assert waiting(project) == []


def test_nothing_is_judged_where_nobody_has_said_what_is_used(project):
    told = shown(project)

    assert (told.used, told.pairs) == (None, ())
    assert [str(part) for part in told.unnamed] == ["sealant", "membrane", "fin", "WRB"]
    assert told.wants_a_look


def test_what_does_not_fit_is_an_error_and_stands_before_warnings(manager, project):
    kinds(manager, project, "silicone", "rubberised-asphalt", "fibreglass-fin")

    told = shown(project)

    assert [pair.judged.keys for pair in told.refused] == [("silicone", "rubberised-asphalt")]
    assert [pair.judged.answer for pair in told.waiting] == ["no entry", "no entry"]
    assert told.open[0].judged.is_refused


@pytest.mark.parametrize("pair", [NO_ENTRY, ASKED])
def test_a_pair_waits_until_a_named_person_answers_for_it(manager, project, pair):
    kinds(manager, project, *CLAD)

    row = take(manager, project, pair)

    assert pair not in waiting(project)
    assert (row.person, row.by, row.reason) == ("Wren Idle", manager.user, "The maker said yes on 3 March.")
    entry = AuditEntry.objects.get(action="take on pair")
    assert entry.after["person"] == "Wren Idle"


def test_even_what_does_not_fit_can_be_answered_for(manager, project):
    kinds(manager, project, "silicone", "acrylic-membrane")

    assert take(manager, project, ("silicone", "acrylic-membrane")).answer == "no"
    assert waiting(project) == []


def test_one_project_s_name_answers_for_no_other(manager, project):
    other = ProjectFactory(company=project.company)
    kinds(manager, None, *CLAD)
    take(manager, project)

    assert waiting(project) == [ASKED]
    assert waiting(other) == [ASKED, NO_ENTRY]


def test_a_changed_kind_asks_anew_and_the_others_stay_answered(manager, project):
    kinds(manager, project, *CLAD)
    take(manager, project, NO_ENTRY)
    take(manager, project, ASKED)

    # the sealant goes and comes back: its pair was out of use, the membrane's was not
    kinds(manager, project, "polyurethane", *CLAD[1:])
    kinds(manager, project, *CLAD)

    assert waiting(project) == [ASKED]
    assert PairTaken.objects.count() == 2
    take(manager, project, ASKED)
    assert waiting(project) == []


def test_the_companys_change_asks_anew_on_each_project_that_follows(manager, project):
    kinds(manager, None, *CLAD)
    take(manager, project)
    kinds(manager, None, *FITTING)
    kinds(manager, None, *CLAD)

    assert NO_ENTRY in waiting(project)


def test_leaving_the_companys_kinds_asks_anew(manager, project):
    kinds(manager, None, *CLAD)
    take(manager, project)

    kinds(manager, project, *CLAD)

    assert NO_ENTRY in waiting(project)


def test_saving_the_same_kinds_changes_nothing(manager, project):
    row = kinds(manager, project, *CLAD)
    take(manager, project)
    writes = AuditEntry.objects.count()

    again = kinds(manager, project, *reversed(CLAD))

    assert (again.version, again.kinds) == (row.version, row.kinds)
    assert AuditEntry.objects.count() == writes
    assert waiting(project) == [ASKED]


def test_asked_twice_it_is_written_once(manager, project):
    kinds(manager, project, *CLAD)

    assert take(manager, project) == take(manager, project, person="Somebody Else")
    assert PairTaken.objects.count() == 1


def test_another_answer_of_the_table_asks_anew(manager, project):
    kinds(manager, project, *CLAD)
    row = take(manager, project)
    with transaction.atomic():
        # as if the table had said `ask the maker` when the name was given
        PairTaken.objects.create(
            company=row.company, project=project, used=row.used, version=row.version, one="stp-hybrid",
            other="clad-wood-fin", answer="no entry", person="Wren Idle", reason="tried", at=row.at,
        )  # fmt: skip

    assert waiting(project) == [ASKED]


@pytest.mark.parametrize(
    "pair", [("stp-hybrid", "butyl-membrane"), ("silicone", "butyl-membrane"), ("tar", "feathers")]
)
def test_nobody_answers_for_what_fits_or_is_not_used(manager, project, pair):
    kinds(manager, project, *CLAD)

    with pytest.raises(BadValue):
        take(manager, project, pair)

    assert PairTaken.objects.count() == 0


@pytest.mark.parametrize(("person", "reason"), [("", "why"), ("Wren Idle", "  "), ("Wren\nIdle", "why")])
def test_a_name_and_a_reason_are_asked_for(manager, project, person, reason):
    kinds(manager, project, *CLAD)

    with pytest.raises(BadValue):
        take(manager, project, person=person, reason=reason)

    assert PairTaken.objects.count() == 0


def test_an_unknown_kind_is_refused_and_nothing_is_written(manager, project):
    with pytest.raises(BadValue, match="'tar'"):
        kinds(manager, project, "tar")

    assert UsedKinds.objects.count() == 0


def test_an_archived_project_is_left_alone(manager, project):
    kinds(manager, project, *CLAD)
    Project.objects.filter(pk=project.pk).update(archived=True)
    project.refresh_from_db()

    for write in (lambda: kinds(manager, project, *FITTING), lambda: take(manager, project)):
        with pytest.raises(Archived):
            write()


def test_only_the_office_says_what_is_used_and_names_somebody(foreman, hand, project):
    for by in (foreman, hand):
        with pytest.raises(NotAllowed):
            kinds(by, project, *CLAD)
        with pytest.raises(NotAllowed):
            take(by, project)


def test_another_companys_project_is_not_there(stranger, project):
    with pytest.raises(NotThere):
        kinds(stranger, project, *CLAD)
    with pytest.raises(NotThere):
        take(stranger, project)


def test_of_two_who_save_the_second_learns_of_the_first(manager, owner, project):
    seen = kinds(manager, project, *CLAD).version
    kinds(owner, project, *FITTING, version=seen)

    with pytest.raises(StaleVersion) as refusal:
        kinds(manager, project, *CLAD, version=seen)

    assert refusal.value.parameters["who"] == "Odalys Brandt"
    assert waiting(project) == []


def test_who_saw_none_does_not_save_over_the_first(manager, owner, project):
    kinds(owner, project, *FITTING, version=0)

    with pytest.raises(StaleVersion):
        kinds(manager, project, *CLAD, version=0)


def test_a_record_is_never_changed_or_deleted(manager, project):
    kinds(manager, project, *CLAD)
    row = take(manager, project)
    rows = PairTaken.objects.filter(pk=row.pk)

    for write in (lambda: rows.update(person="Nobody"), rows.delete):
        with pytest.raises(IntegrityError), transaction.atomic():
            write()

    assert rows.get().person == "Wren Idle"


def test_a_kind_that_left_the_table_is_passed_over(manager, project):
    kinds(manager, project, *FITTING)
    UsedKinds.objects.filter(project=project).update(kinds={"tar": 1, "silicone": 1, "vinyl-fin": 1})

    assert [kind.key for kind in shown(project).kinds] == ["silicone", "vinyl-fin"]


def test_all_projects_take_two_queries(manager, company, django_assert_num_queries):
    projects = [ProjectFactory(company=company) for _ in range(20)]
    kinds(manager, None, *CLAD)
    for project in projects[:10]:
        kinds(manager, project, *CLAD)
        take(manager, project)

    with django_assert_num_queries(2):
        found = pairs_of(company, projects)

    assert len(found) == 20
    assert len(table_page(company).projects) == 20


@pytest.mark.django_db(transaction=True)
def test_of_two_who_answer_at_the_same_moment_one_is_written(manager, owner, project):
    kinds(manager, project, *CLAD)
    together, given = threading.Barrier(2), []

    def run(by):
        together.wait()
        try:
            given.append(take(by, project, person=by.name).pk)
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(by,)) for by in (manager, owner)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(given) == 2
    assert len(set(given)) == 1
    assert PairTaken.objects.count() == 1
