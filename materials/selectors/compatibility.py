"""What is used together on projects, what the table says of it, and who answers for the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from materials.compatibility.load import load_pairs
from materials.compatibility.table import Entry, Judged, Kind, Part, judge, unnamed_parts
from materials.models import PairTaken, UsedKinds
from projects.models import Company, Project
from projects.selectors import row_of


@dataclass(frozen=True, slots=True)
class PairShown:
    """Two kinds that touch on a project, with who answers for them, None as long as nobody does."""

    judged: Judged
    taken: PairTaken | None

    @property
    def is_open(self) -> bool:
        """Return whether a name is still asked for."""
        return not self.judged.fits and self.taken is None


@dataclass(frozen=True, slots=True)
class ProjectPairs:
    """What a project uses: its own kinds or the company's, every pair of them, parts nobody has named."""

    project: Project
    used: UsedKinds | None
    kinds: tuple[Kind, ...]
    unnamed: tuple[Part, ...]
    pairs: tuple[PairShown, ...]

    @property
    def is_own(self) -> bool:
        """Return whether the project has kinds of its own."""
        return self.used is not None and self.used.project_id is not None

    @property
    def refused(self) -> tuple[PairShown, ...]:
        """Return the pairs that do not fit and that nobody answers for: errors."""
        return tuple(pair for pair in self.pairs if pair.is_open and pair.judged.is_refused)

    @property
    def waiting(self) -> tuple[PairShown, ...]:
        """Return the other pairs that want a name: without an entry, or to be asked of the maker."""
        return tuple(pair for pair in self.pairs if pair.is_open and not pair.judged.is_refused)

    @property
    def open(self) -> tuple[PairShown, ...]:
        """Return the pairs that want a name, those that do not fit first."""
        return (*self.refused, *self.waiting)

    @property
    def wants_a_look(self) -> bool:
        """Return whether the office has something to say or to name."""
        return bool(self.unnamed or self.open)

    @property
    def named(self) -> tuple[tuple[Part, tuple[Kind, ...]], ...]:
        """Return each part with the kinds that are used of it."""
        return tuple((part, tuple(kind for kind in self.kinds if kind.part is part)) for part in Part)


@dataclass(frozen=True, slots=True)
class TablePage:
    """The whole table as a page shows it, and what the company usually uses."""

    entries: tuple[tuple[Kind, Kind, Entry], ...]
    default: UsedKinds | None
    named: tuple[tuple[Part, tuple[Kind, ...]], ...]
    projects: tuple[ProjectPairs, ...]


def pairs_of(company: Company, projects: Sequence[Project]) -> dict[int, ProjectPairs]:
    """Return what each project uses together, by its primary key. Two queries."""
    own, default = _used(company, projects)
    taken: dict[int, list[PairTaken]] = {project.pk: [] for project in projects}
    for row in PairTaken.objects.of(company).filter(project__in=projects).select_related("by").order_by("id"):
        taken[row.project_id].append(row)
    return {
        project.pk: _pairs(project, own.get(project.pk) or default, taken[project.pk]) for project in projects
    }


def project_pairs(company: Company, pk: int) -> ProjectPairs:
    """Return what a project uses together. Raises NotThere."""
    project = row_of(Project, company, pk)
    return pairs_of(company, [project])[pk]


def used_kinds(company: Company, project: Project | None) -> UsedKinds | None:
    """Return the row of a project itself, with None the company's."""
    return UsedKinds.objects.of(company).select_related("project").filter(project=project).first()


def table_page(company: Company) -> TablePage:
    """Return the whole table, and the live projects with what they use."""
    table = load_pairs()
    projects = list(Project.objects.of(company).filter(archived=False).order_by("name", "id"))
    default = used_kinds(company, None)
    kinds = _kinds_of(default)
    return TablePage(
        entries=tuple(
            (table.kinds[one], table.kinds[other], entry) for (one, other), entry in table.entries.items()
        ),
        default=default,
        named=tuple((part, tuple(kind for kind in kinds if kind.part is part)) for part in Part),
        projects=tuple(pairs_of(company, projects).values()),
    )


def _used(company: Company, projects: Sequence[Project]) -> tuple[dict[int, UsedKinds], UsedKinds | None]:
    """Return the projects' own rows, those without kinds left out, and the company's."""
    own: dict[int, UsedKinds] = {}
    default = None
    wanted = {project.pk for project in projects}
    for row in UsedKinds.objects.of(company).select_related("project"):
        if row.project_id is None:
            default = row
        elif row.project_id in wanted and row.kinds:
            own[row.project_id] = row
    return own, default


def _kinds_of(used: UsedKinds | None) -> tuple[Kind, ...]:
    """Return the row's kinds in the table's order; a kind that the table has no more is left out."""
    chosen: Mapping[str, int] = used.kinds if used else {}
    return tuple(kind for key, kind in load_pairs().kinds.items() if key in chosen)


def _pairs(project: Project, used: UsedKinds | None, taken: Sequence[PairTaken]) -> ProjectPairs:
    kinds, table = _kinds_of(used), load_pairs()
    keys = [kind.key for kind in kinds]
    return ProjectPairs(
        project=project,
        used=used,
        kinds=kinds,
        unnamed=unnamed_parts(keys, table),
        pairs=tuple(PairShown(judged, _holds(judged, used, taken)) for judged in judge(keys, table)),
    )


def _holds(judged: Judged, used: UsedKinds | None, taken: Sequence[PairTaken]) -> PairTaken | None:
    """Return who answers for a pair now: neither kind was changed since, and the table says the same."""
    if used is None or judged.fits:
        return None
    since = max(used.kinds[key] for key in judged.keys)
    for row in reversed(taken):
        same = (row.one, row.other) == judged.keys and row.used_id == used.pk
        if same and row.version >= since and row.answer == judged.answer:
            return row
    return None
