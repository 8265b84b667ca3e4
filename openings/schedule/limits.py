"""How much a schedule file may hold, and the refusal of a whole file. Pure."""

from __future__ import annotations

from projects.errors import BadValue

MAX_BYTES = 20 * 2**20
MAX_ROWS = 50_000
MAX_COLUMNS = 500
MAX_CELLS = 1_000_000
MAX_ROW_LENGTH = 1_000_000
MAX_OPENINGS = 50_000
MAX_COUNT = 1_000
MAX_UNPACKED = 50 * 2**20
MAX_MEMBERS = 1_000
MAX_RATIO = 100
MAX_DIRECTORY = 512 * 2**10
LAST_SHEET_ROW = 1_048_576

TOO_LARGE = "too large"
NOT_SAFE = "not safe"
WRONG_TYPE = "wrong type"
NO_SCHEDULE = "no schedule"


class FileRefused(BadValue):
    """A whole file that is not read. `kind` is one of the four words above; `row` where one is to blame."""

    def __init__(self, *, kind: str, problem: str, remedy: str, row: int | None = None) -> None:
        """Keep what kind of refusal this is, so that a page can answer with the fitting status."""
        super().__init__(problem=problem, remedy=remedy)
        self.kind = kind
        self.row = row


def too_many_rows() -> FileRefused:
    """Return the refusal of a file beyond the row limit."""
    return FileRefused(
        kind=TOO_LARGE,
        problem=f"The file has more than {MAX_ROWS:,} rows.",
        remedy=f"Split the file: the limit is {MAX_ROWS:,} rows.",
    )


def too_many_cells() -> FileRefused:
    """Return the refusal of a file whose rows hold more cells than a schedule ever does."""
    return FileRefused(
        kind=TOO_LARGE,
        problem=f"The file has more than {MAX_CELLS:,} cells.",
        remedy="Keep the schedule's own columns, or split the file.",
    )


def row_too_long(row: int) -> FileRefused:
    """Return the refusal of a file with an endless row."""
    return FileRefused(
        kind=TOO_LARGE,
        problem=f"Row {row} is longer than {MAX_ROW_LENGTH:,} characters.",
        remedy="Keep the schedule's own columns, and one opening on each row.",
        row=row,
    )


def too_many_openings() -> FileRefused:
    """Return the refusal of a file whose counts stand for more openings than the limit."""
    return FileRefused(
        kind=TOO_LARGE,
        problem=f"The file's counts stand for more than {MAX_OPENINGS:,} openings.",
        remedy=f"Split the file: the limit is {MAX_OPENINGS:,} openings.",
    )


def too_many_columns(row: int) -> FileRefused:
    """Return the refusal of a file with a row beyond the column limit."""
    return FileRefused(
        kind=TOO_LARGE,
        problem=f"The file has more than {MAX_COLUMNS} columns.",
        remedy=f"Keep the schedule's own columns: the limit is {MAX_COLUMNS}.",
        row=row,
    )


def unsafe_workbook() -> FileRefused:
    """Return the refusal of a workbook that could harm the reader; it does not say how, only what to do."""
    return FileRefused(
        kind=NOT_SAFE,
        problem="This workbook can't be read safely.",
        remedy="Save it again as .xlsx or CSV.",
    )


def wrong_type() -> FileRefused:
    """Return the refusal of a file that is neither text nor a workbook, whatever its name says."""
    return FileRefused(
        kind=WRONG_TYPE,
        problem="This file is no window schedule.",
        remedy="Send a CSV file or an .xlsx workbook.",
    )
