"""Opening files with LibreOffice as a person would, and reading back what it made of each cell."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from lxml import etree

NAMES = {
    "office": "urn:oasis:names:tc:opendocument:xmlns:office:1.0",
    "table": "urn:oasis:names:tc:opendocument:xmlns:table:1.0",
    "text": "urn:oasis:names:tc:opendocument:xmlns:text:1.0",
}
MISSING = (
    "LibreOffice is not installed. As root: apt-get install -y --no-install-recommends libreoffice-calc-nogui"
)
MINUTES = 10 * 60


@dataclass(frozen=True)
class Cell:
    """What a cell shows, and the formula that it is worked out by: empty where it is none."""

    text: str
    formula: str


def is_there() -> bool:
    return shutil.which("soffice") is not None


def opened(files: list[Path], folder: Path, *, separator: str = "") -> dict[str, list[list[Cell]]]:
    """Return the rows of each file's first sheet by the file's name, as LibreOffice has them once opened.

    A CSV file is split at `separator`, read as UTF-8, its formulas evaluated: the most that may be pressed.
    """
    into = folder / f"opened-{ord(separator or ' ')}"
    # separator, quotation mark, UTF-8, first line, ..., the last: formulas are evaluated. Source: LibreOffice
    # help, "Filter Options for CSV Filter"
    tokens = f"CSV:{ord(separator)},34,76,1,,0,false,true,false,false,false,0,true" if separator else ""
    subprocess.run(
        [
            *("soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{folder}/profile"),
            *([f"--infilter={tokens}"] if separator else []),
            *("--convert-to", "fods", "--outdir", str(into)),
            *map(str, files),
        ],
        check=True,
        capture_output=True,
        timeout=MINUTES,
    )
    return {file.name: list(_rows(into / f"{file.stem}.fods")) for file in files}


def _rows(file: Path) -> Iterator[list[Cell]]:
    sheet = etree.parse(file, etree.XMLParser(huge_tree=True)).find(".//table:table", NAMES)
    for row in sheet.iter(f"{{{NAMES['table']}}}table-row"):
        yield [cell for each in row for cell in _cells(each)]


def _cells(element: etree._Element) -> list[Cell]:
    times = int(element.get(f"{{{NAMES['table']}}}number-columns-repeated", "1"))
    text = "\n".join(_told(each) for each in element.findall("text:p", NAMES))
    formula = element.get(f"{{{NAMES['table']}}}formula", "")
    # the empty rest of a row is told as thousands of cells
    return [Cell(text, formula)] * (times if text or formula or times < 100 else 1)


def _told(paragraph: etree._Element) -> str:
    """Return a paragraph's text; several spaces and tabs are elements of their own."""
    parts = [paragraph.text or ""]
    for each in paragraph:
        kind = etree.QName(each).localname
        count = int(each.get(f"{{{NAMES['text']}}}c", "1"))
        parts += [{"s": " " * count, "tab": "\t"}.get(kind, _told(each)), each.tail or ""]
    return "".join(parts)
