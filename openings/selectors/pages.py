"""What the pages of houses, openings and schedules show: one call per page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from openings.convert import opening_input
from openings.drawing.elevation import draw_elevation, draw_house
from openings.drawing.placing import DrawnElevation, DrawnOpening
from openings.drawing.section import draw_section
from openings.drawing.shapes import Drawing
from openings.drawing.stack import SectionSizes
from openings.methods.choices import Choices
from openings.methods.load import load_method
from openings.methods.method import Method
from openings.models import Opening, ScheduleImport, SpecificationVersion
from openings.selectors.reading import InForce, live_openings, opening_inputs, specification_in_force
from openings.selectors.windows import window_counts
from openings.takeoff.answer import line_as_json
from openings.takeoff.compute import OpeningTakeoff, take_off_house
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from openings.takeoff.telling import tell
from openings.takeoff.why import Why, explain
from projects.errors import NotThere
from projects.models import Company, Elevation, House, Project
from projects.problems import Problem
from projects.selectors import row_of

SHARED_BY = 4


@dataclass(frozen=True, slots=True)
class OpeningRow:
    """One opening in a house's list: the row, its value and its takeoff, None where that was refused.

    `remarks` are those that are its own; what many openings share is said once, above the list.
    """

    row: Opening
    value: OpeningInput
    takeoff: OpeningTakeoff | None
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SharedRemark:
    """What is worth knowing about many openings of a house, and which they are."""

    text: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Face:
    """One elevation with its openings."""

    elevation: Elevation
    openings: tuple[OpeningRow, ...]


@dataclass(frozen=True, slots=True)
class HousePage:
    """A house unfolded: its faces in walking order, drawn to one scale."""

    house: House
    faces: tuple[Face, ...]
    drawing: Drawing | None
    in_force: InForce
    notices: tuple[str, ...]
    shared: tuple[SharedRemark, ...]
    problems: tuple[Problem, ...]
    removed: tuple[Opening, ...]
    waiting_schedules: tuple[ScheduleImport, ...]
    windows: Mapping[str, int]

    @property
    def count(self) -> int:
        """Return how many openings the house has."""
        return sum(len(face.openings) for face in self.faces)


@dataclass(frozen=True, slots=True)
class ExplainedLine:
    """One line of the takeoff as a page shows it, with its reason."""

    part: str
    zone: str
    count: int
    told: str
    why: Why


@dataclass(frozen=True, slots=True)
class OpeningPage:
    """One opening with its section, and each line of its takeoff with its reason."""

    opening: Opening
    value: OpeningInput
    takeoff: OpeningTakeoff | None
    section: Drawing | None
    lines: tuple[ExplainedLine, ...]
    in_force: InForce
    notices: tuple[str, ...]
    problems: tuple[Problem, ...]

    @property
    def section_notes(self) -> tuple[str, ...]:
        """Return what the section says beside itself and no notice says already."""
        notes = self.section.notes if self.section else ()
        return tuple(note for note in notes if note not in self.notices)


def house_page(company: Company, pk: int) -> HousePage:
    """Return all that a house's page shows. Raises NotThere."""
    house = row_of(House, company, pk, "project")
    in_force = specification_in_force(house.project)
    elevations = list(Elevation.objects.of(company).filter(house=house))
    every = Opening.objects.of(company).filter(house=house).select_related("elevation")
    rows = [row for row in every if row.removed_at is None]
    values = [opening_input(row) for row in rows]
    taken = take_off_house(values, in_force.specification)
    by_mark = {found.opening.mark: found for found in taken.openings}
    shared = _shared(taken.openings)
    listed = [_row(row, value, by_mark, shared) for row, value in zip(rows, values, strict=True)]
    faces = tuple(
        Face(face, tuple(entry for entry in listed if entry.row.elevation_id == face.pk))
        for face in elevations
    )
    previews = ScheduleImport.objects.of(company).filter(house=house, state=ScheduleImport.State.PREVIEW)
    return HousePage(
        house=house,
        faces=faces,
        drawing=draw_house(house.name, [_drawn(face) for face in faces if face.openings]) if rows else None,
        in_force=in_force,
        notices=tuple(taken.notices),
        shared=shared,
        problems=tuple(taken.problems),
        removed=tuple(row for row in every if row.removed_at is not None),
        waiting_schedules=tuple(previews.defer("content")[:5]),
        windows=window_counts(company, rows),
    )


def opening_page(company: Company, pk: int) -> OpeningPage:
    """Return all that an opening's page shows. Raises NotThere."""
    row = (
        Opening.objects.of(company)
        .select_related("company", "house__project", "house__company", "elevation")
        .filter(pk=pk)
        .first()
    )
    if row is None:
        raise NotThere
    in_force = specification_in_force(row.house.project)
    value = opening_input(row)
    neighbours = [value] if row.removed_at else opening_inputs(row.house)
    taken = take_off_house(neighbours, in_force.specification)
    takeoff = next((found for found in taken.openings if found.opening.mark == value.mark), None)
    method = load_method(value.method or in_force.specification.method)
    return OpeningPage(
        opening=row,
        value=value,
        takeoff=takeoff,
        section=_section(method, value, in_force.specification) if takeoff else None,
        lines=_explained(takeoff, method, in_force.specification),
        in_force=in_force,
        notices=tuple(notice.text for notice in takeoff.notices) if takeoff else (),
        problems=() if takeoff else _about(value.mark, taken.problems),
    )


def elevation_page(company: Company, pk: int) -> tuple[Elevation, Drawing | None]:
    """Return an elevation, and its drawing where it has openings. Raises NotThere."""
    elevation = row_of(Elevation, company, pk, "house__project")
    rows = live_openings(company).filter(elevation=elevation).select_related("elevation")
    entries = tuple(OpeningRow(row, opening_input(row), None) for row in rows)
    return elevation, draw_elevation(_drawn(Face(elevation, entries))) if entries else None


def schedule_of(company: Company, pk: int) -> ScheduleImport:
    """Return a schedule with its house and project. Raises NotThere."""
    return row_of(ScheduleImport, company, pk, "house__project", "house__company")


def specification_history(company: Company, project: Project | None) -> Sequence[SpecificationVersion]:
    """Return the versions of a project's or, with None, the company's settings, newest first."""
    rows = SpecificationVersion.objects.of(company).filter(project=project)
    return list(rows.select_related("created_by").order_by("-number")[:20])


def choices_of(method: Method, value: OpeningInput, specification: Specification) -> Choices:
    """Return what an opening chooses of its method: its row first, then the specification."""
    standing = specification.over_fin if specification.over_fin in method.over_fin_allowed else None
    return method.choices(
        over_fin=value.over_fin or standing,
        pan=value.pan or specification.pan,
        head_strip=specification.head_strip,
        fin=value.fin or specification.fin,
        corners=value.corners or specification.corners,
        drip_cap=specification.drip_cap,
        air_seal=specification.air_seal,
    )


def _shared(openings: Sequence[OpeningTakeoff]) -> tuple[SharedRemark, ...]:
    """Return the remarks that many openings share, in the order in which they first come up."""
    marks: dict[str, list[str]] = {}
    for found in openings:
        for notice in found.notices:
            marks.setdefault(notice.text, []).append(found.opening.mark)
    return tuple(SharedRemark(text, tuple(of)) for text, of in marks.items() if len(of) >= SHARED_BY)


def _row(
    row: Opening,
    value: OpeningInput,
    by_mark: Mapping[str, OpeningTakeoff],
    shared: Sequence[SharedRemark],
) -> OpeningRow:
    takeoff = by_mark.get(row.mark)
    said = {remark.text for remark in shared}
    notices = takeoff.notices if takeoff else ()
    return OpeningRow(row, value, takeoff, tuple(one.text for one in notices if one.text not in said))


def _section(method: Method, value: OpeningInput, specification: Specification) -> Drawing:
    sizes = SectionSizes(
        sill_strip_width=specification.sill_strip_width,
        jamb_strip_width=specification.jamb_strip_width,
        head_strip_width=specification.head_strip_width,
        pan_turn_down=specification.pan_turn_down,
        wall_depth=value.wall_depth or specification.wall_depth,
        unit_width=value.unit_width,
        weep_gap=specification.weep_gap,
    )
    return draw_section(method, choices_of(method, value, specification), sizes=sizes)


def _explained(
    takeoff: OpeningTakeoff | None, method: Method, specification: Specification
) -> tuple[ExplainedLine, ...]:
    if takeoff is None:
        return ()
    return tuple(
        ExplainedLine(
            part=line.part,
            zone=line.zone,
            count=line.count,
            told=tell(line_as_json(line)),
            why=explain(line, opening=takeoff.opening, specification=specification, method=method),
        )
        for line in takeoff.lines
    )


def _drawn(face: Face) -> DrawnElevation:
    return DrawnElevation(
        face.elevation.name,
        tuple(
            DrawnOpening(
                mark=entry.value.mark,
                ro_width=entry.value.ro_width,
                ro_height=entry.value.ro_height,
                unit_width=entry.value.unit_width,
                unit_height=entry.value.unit_height,
                offset=entry.value.offset,
                sill_height=entry.value.sill_height,
            )
            for entry in face.openings
        ),
    )


def _about(mark: str, problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """Return what was refused of this opening; where it is nothing of its own, what holds for all."""
    own = tuple(problem for problem in problems if problem.problem.startswith(f"{mark}: "))
    return own or tuple(problems)
