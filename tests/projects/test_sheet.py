"""Numbers as sheets show them, and the stylesheet's own promises."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.templatetags.sheet import feet, fraction, inches, millimetres, money

STATIC = Path(__file__).parent.parent.parent / "static" / "css"
TEMPLATES = Path(__file__).parent.parent.parent / "templates"
TEXTS = ("--ink", "--ink-soft", "--press", "--caution")
PAPERS = ("--paper", "--paper-raised")


def plain(shown):
    """Return what a person reads, without markup."""
    return (
        re.sub(r"<[^>]+>", "", str(shown))
        .replace("\u2044", "/")
        .replace("\u2009", " ")
        .replace("&quot;", '"')
    )


@pytest.mark.parametrize(
    ("length", "told"),
    [
        (Length.inches(36.5), '36 1/2"'),
        (Length.inches(36), '36"'),
        (Length.inches(0.4375), '7/16"'),
        (Length.mm(914), '36"'),  # 35.984 in is nearest to 36
    ],
)
def test_a_length_is_told_in_inches_to_the_sixteenth(length, told):
    assert plain(inches(length)) == told


def test_feet_are_told_apart_from_inches():
    assert plain(feet(Length.inches(42.5))).replace("&#x27;", "'") == "3'-6 1/2\""


def test_a_length_carries_its_millimetres():
    # 36.5 in x 25.4 = 927.1 mm
    assert 'title="927 mm"' in inches(Length.inches(36.5))
    assert plain(millimetres(Length.inches(36.5))) == "927\u00a0mm"


def test_fractions_are_set_and_dates_are_not():
    assert str(fraction('1/2" at 12/25/2026')).count('class="fraction"') == 1


def test_a_fraction_in_hostile_text_stays_text():
    assert "<img" not in fraction("<img src=x onerror=alert(1)> 1/2")


@pytest.mark.parametrize(
    ("amount", "told"),
    [
        (Money(123456), "$1,234.56"),
        (Money(5), "$0.05"),
        (Money(-900), "\u2212$9.00"),
        (Money(1200, "EUR"), "12.00\u00a0EUR"),
    ],
)
def test_money_is_told_with_its_currency(amount, told):
    assert plain(money(amount)) == told


def test_what_is_missing_is_a_dash():
    assert plain(inches(None)) == plain(money(None)) == "\u2013"


def luminance(colour):
    """Return the relative luminance of #rrggbb. Source: WCAG 2.2, relative luminance."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Return the contrast ratio. Source: WCAG 2.2, contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def tokens():
    """Return each colour token by day and by night."""
    text = (STATIC / "tokens.css").read_text()
    return {
        name: (day, night)
        for name, day, night in re.findall(r"(--[\w-]+): light-dark\((#\w{6}), (#\w{6})\)", text)
    }


def test_contrast_is_measured_as_published():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.2: black on white is 21:1


@pytest.mark.parametrize("when", [0, 1], ids=["day", "night"])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("text", TEXTS)
def test_text_on_paper_has_seven_to_one(text, paper, when):
    found = tokens()

    assert contrast(found[text][when], found[paper][when]) >= 7


@pytest.mark.parametrize("when", [0, 1], ids=["day", "night"])
def test_what_is_pressed_and_its_edges_are_seen_in_sunlight(when):
    found = {name: pair[when] for name, pair in tokens().items()}

    assert contrast(found["--press-ink"], found["--press"]) >= 7
    assert contrast(found["--caution"], found["--caution-paper"]) >= 7
    assert contrast(found["--edge"], found["--paper"]) >= 4.5
    assert contrast(found["--edge"], found["--paper-raised"]) >= 4.5


def test_the_stylesheets_keep_their_promises():
    for sheet in STATIC.glob("*.css"):
        css = re.sub(r"/\*.*?\*/", "", sheet.read_text(), flags=re.DOTALL)
        sided = re.findall(
            r"(?<![\w-])(?:left|right|(?:margin|padding|border)-(?:left|right|top|bottom))\s*:", css
        )

        assert sided == [], sheet.name
        assert "!important" not in css, sheet.name
        assert "http" not in css, sheet.name


def test_no_template_styles_or_scripts_by_itself():
    for template in TEMPLATES.rglob("*.html"):
        html = template.read_text()
        if template.parent.name == "documents":
            continue

        assert not re.search(r"\sstyle\s*=", html), template
        assert not re.search(r"<style|<script(?! src)", html), template
        assert not re.search(r"\son\w+\s*=", html), template
        assert not re.search(r"\|\s*safe\b|autoescape off|hx-on|hx-vals=.js:", html), template
