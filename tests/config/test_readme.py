"""The README's worked house is what the command answers today."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

from django.core.management import call_command

ROOT = Path(__file__).resolve().parent.parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLE = ROOT / "docs" / "examples" / "two-faces.csv"


def indented(start):
    """Return the indented block that begins with `start`, without its indent."""
    lines = README.splitlines()
    first = next(number for number, line in enumerate(lines) if line.strip().startswith(start))
    block = []
    for line in lines[first:]:
        if not line.startswith("    "):
            break
        block.append(line[4:])
    return block


def test_the_readme_shows_the_example_schedule_as_it_is():
    assert indented("elevation,mark") == EXAMPLE.read_text().splitlines()


def test_the_readme_s_house_is_taken_off_again():
    command, *told = indented("$ .venv/bin/python manage.py takeoff")
    out = StringIO()
    words = command.split("manage.py ")[1].split()

    call_command(*words[:2], str(ROOT / words[2]), *words[3:], stdout=out)

    assert out.getvalue().splitlines()[: len(told)] == told


def test_the_readme_s_sum_by_hand_is_the_length_it_prints():
    # (54 1/2 + 54 1/2 + 2 x 77 1/2) twice, 90 1/2 + 90 1/2 + 2 x 77 1/2, 42 1/2 + 42 1/2 + 2 x 53 1/2
    inches = 2 * 264 + 336 + 192

    assert inches == 88 * 12
    assert "(16 strips, 88'-0\" together)" in README
