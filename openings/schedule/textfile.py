"""Which rows a delimited text file holds, whatever its encoding, delimiter or line ends. Pure."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence

from openings.schedule.cells import Cells, text_of, trimmed
from openings.schedule.limits import MAX_ROW_LENGTH, NO_SCHEDULE, FileRefused, row_too_long, wrong_type

DELIMITERS = (",", ";", "\t")
_SAMPLE_BYTES = 64 * 2**10
_SAMPLE_ROWS = 60
_CHUNK = 2**20
_MOST_CONTROLS = 0.05
_OTHER_STARTS = (
    b"MZ", b"\x7fELF", b"%PDF", b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"BM", b"RIFF", b"II*\x00", b"MM\x00*",
    b"{\\rtf", b"\xd0\xcf\x11\xe0", b"7z\xbc\xaf", b"Rar!", b"\x1f\x8b", b"SQLite format 3", b"PK",
)  # fmt: skip
_MARKUP = re.compile(r"\s*<(?:\?xml|!doctype|!--|svg|html|table|head|body|script|meta)", re.IGNORECASE)
_SEPARATOR_LINE = re.compile(r"\ufeff?\"?sep=(?P<delimiter>.)\"?\r?\n?", re.IGNORECASE)
_CONTROLS = frozenset(range(32)) - {9, 10, 11, 12, 13} | {127}
# one row more than the file has: where a quotation mark is never closed, it ends up inside the last cell
_AFTER_THE_END = "\x00end of the schedule\x00"


def encoding_of(content: bytes) -> str:
    """Return the codec that reads the text. Raises FileRefused where it is no text, or none reads it."""
    beginning = content[:_SAMPLE_BYTES]
    if beginning.startswith(codecs.BOM_UTF8):
        candidates = ["utf-8-sig"]
    elif beginning.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        candidates = ["utf-16"]
    elif beginning.startswith(_OTHER_STARTS) and not _reads_like_text(beginning):
        raise wrong_type()
    else:
        candidates = [*_unmarked_utf16(beginning), "utf-8", "cp1252"]
    for codec in candidates:
        if _decodes(content, codec):
            _refuse_other_text(beginning, codec)
            return codec
    if _mostly_controls(beginning.decode("latin-1")):
        raise wrong_type()
    raise FileRefused(
        kind=NO_SCHEDULE,
        problem="The file's letters can't be read.",
        remedy="Save it again as CSV with UTF-8 text.",
    )


def delimiter_of(content: bytes, *, codec: str, known: Callable[[Sequence[str]], int]) -> str:
    """Return comma, semicolon or tab: the one under which the most cells of a row are `known` headers.

    Where no row is known, the one that splits the most rows into the most columns.
    """
    first = _open(content, codec).readline(16)
    if match := _SEPARATOR_LINE.fullmatch(first):
        return match["delimiter"]
    return max(DELIMITERS, key=lambda delimiter: _fit(content, codec=codec, delimiter=delimiter, known=known))


def text_rows(content: bytes, *, codec: str, delimiter: str) -> Iterator[tuple[int, Cells]]:
    """Yield row number (the spreadsheet's, blank lines counted) and cells.

    Raises FileRefused at a quotation mark that is never closed, naming the row that opens it.
    """
    lines = _Lines(content, codec)
    number = 0
    try:
        for number, cells in enumerate(csv.reader(lines, delimiter=delimiter), start=1):
            if _is_after_the_end(cells, number):
                return
            yield number, trimmed(cells)
            lines.begin_row(number + 1)
    except csv.Error as error:
        # the reader gives up on a cell of 128 KB: a schedule has none, an open quotation mark makes one
        raise _unclosed(number + 1) from error


def _is_after_the_end(cells: list[str], number: int) -> bool:
    if not cells or not cells[-1].endswith(_AFTER_THE_END):
        return False
    if cells != [_AFTER_THE_END]:
        raise _unclosed(number)
    return True


class _Lines:
    """The lines of a text file, a row's together never longer than the limit, and one more at the end."""

    def __init__(self, content: bytes, codec: str) -> None:
        self._text = _open(content, codec)
        if not _SEPARATOR_LINE.fullmatch(self._text.readline(16)):
            self._text = _open(content, codec)
        self._row, self._length, self._ended = 1, 0, False

    def begin_row(self, row: int) -> None:
        """Count the length of this row from here on."""
        self._row, self._length = row, 0

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line = self._text.readline(MAX_ROW_LENGTH + 1)
        if not line:
            if self._ended:
                raise StopIteration
            self._ended = True
            return _AFTER_THE_END
        self._length += len(line)
        if self._length > MAX_ROW_LENGTH:
            raise row_too_long(self._row)
        return line


def _unclosed(row: int) -> FileRefused:
    return FileRefused(
        kind=NO_SCHEDULE,
        problem=f"Row {row} opens a quotation mark that is never closed.",
        remedy='Close it, or write inch marks inside quoted cells twice ("").',
        row=row,
    )


def _open(content: bytes, codec: str) -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(content), encoding=codec, newline="")


def _decodes(content: bytes, codec: str) -> bool:
    decoder = codecs.getincrementaldecoder(codec)()
    try:
        for start in range(0, len(content), _CHUNK):
            decoder.decode(content[start : start + _CHUNK])
        decoder.decode(b"", final=True)
    except UnicodeError:
        return False
    return True


def _unmarked_utf16(beginning: bytes) -> list[str]:
    """Return UTF-16 without its mark where every other byte is mostly zero."""
    half = len(beginning) // 2
    if half and beginning[1::2].count(0) > half * 0.6 and beginning[0::2].count(0) < half * 0.1:
        return ["utf-16-le"]
    if half and beginning[0::2].count(0) > half * 0.6 and beginning[1::2].count(0) < half * 0.1:
        return ["utf-16-be"]
    return []


def _reads_like_text(beginning: bytes) -> bool:
    """Return whether a beginning such as BM or MZ may well be a cell's own letters."""
    if not beginning[:2].isalpha():
        return False
    return not any(byte in _CONTROLS for byte in beginning)


def _refuse_other_text(beginning: bytes, codec: str) -> None:
    text = beginning.decode(codec, errors="ignore")
    if _MARKUP.match(text) or _mostly_controls(text):
        raise wrong_type()


def _mostly_controls(text: str) -> bool:
    """Return whether more of a text is control characters than a schedule with a slip would have."""
    return sum(ord(letter) in _CONTROLS for letter in text) > _MOST_CONTROLS * len(text)


def _fit(
    content: bytes, *, codec: str, delimiter: str, known: Callable[[Sequence[str]], int]
) -> tuple[int, int]:
    headers, columns = 0, 0
    rows = text_rows(content[:_SAMPLE_BYTES], codec=codec, delimiter=delimiter)
    try:
        for _, (_, cells) in zip(range(_SAMPLE_ROWS), rows, strict=False):
            headers = max(headers, known([text_of(cell) for cell in cells]))
            columns += len(cells) - 1 if len(cells) > 1 else 0
    except (FileRefused, UnicodeError):
        # the sample ends in the middle of a letter or of a quoted cell
        pass
    return headers, columns
