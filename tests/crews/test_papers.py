"""Every paper on US Letter and on A4: nothing cut off, heads and numbers on each page, codes that open."""

from __future__ import annotations

import pytest
from django.test import override_settings
from django.urls import reverse

from crews import services
from crews.documents import cover_list_pdf, sheet_pdf
from crews.selectors.covering import CoverPage, OpenFace
from materials import services as materials
from materials.compatibility.exposure import Limit
from materials.documents import order_pdf
from materials.models import OrderLine
from materials.papers import cut_list_pdf, labels_pdf
from materials.selectors.cut_pages import cut_page
from materials.selectors.orders import order_of
from materials.services.cutting import papers_hash
from materials.services.issuing import pdf_hash
from projects import services as projects
from projects.errors import BadValue
from projects.models import Elevation
from projects.pdf import pdf_of
from projects.printing import code_of
from tests.factories.crews import MONDAY, crew_of, face_of, fine_day, house_with
from tests.materials.orders.building import build
from tests.papers import MM, Box, pages_of

pytestmark = pytest.mark.django_db
# points: 8 1/2 x 11 in at 72 to the inch; 210 x 297 mm at 72 / 25.4 (ISO 216)
SIZES = {"letter": (612, 792), "a4": (595, 842)}
SITE = "https://lapwise.harrow.example"
LONG = "Wetterfahnenmembranrollenlager-Nordwest-Hofseite"
papers = pytest.mark.parametrize("paper", SIZES)


@pytest.fixture
def printed(company, paper):
    """The company prints on the paper that the test is about."""
    company.paper = paper
    company.save(update_fields=["paper"])
    return company


@pytest.fixture
def order(printed, manager):
    """An order of 70 lines, one with a long word in each text."""
    site = build(manager)
    draft = site.draft()
    first = draft.lines.first()
    draft.lines.all().delete()
    price = first.unit_price_cents
    rows = [(f"Material {n}", "roll-75ft") for n in range(69)] + [(LONG, "x" + LONG[:30])]
    for position, (description, pack) in enumerate(rows, 1):
        OrderLine.objects.create(
            company=printed, order=draft, position=position, material=first.material, pack=pack,
            description=description, packs=1, need=1, pack_size=first.pack_size, unit_price_cents=price,
            total_cents=price,
        )  # fmt: skip
    draft.total_cents = 70 * price
    draft.save()
    return order_pdf(order_of(printed, draft.pk)).content


@pytest.fixture
def sheet(printed, foreman):
    fine_day(printed)
    lines = [f"Front,W{number},36,60,{number * 40},36,sealed" for number in range(1, 9)]
    house = house_with(printed, *lines, code="LOT-204")
    red = crew_of(printed, "RED")
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house), day=MONDAY)
    return services.plan_day(by=foreman, crew=red, day=MONDAY)


@pytest.fixture
def cut(printed, manager):
    site = build(manager, schedule=many_windows(24))
    row = materials.make_cut_list(by=manager, house=site.house)
    return site.house, cut_page(printed, row.pk)


@pytest.fixture
def covers(printed):
    """A builder's list of 60 elevations."""
    house = house_with(printed, project__name=LONG, code="LOT-9")
    limit = Limit(30, "membrane", "C", "its sheet")
    faces = [Elevation(house=house, name=name) for name in (*(f"Wall {n}" for n in range(59)), LONG)]
    shown = tuple(OpenFace(face, MONDAY, limit, MONDAY) for face in faces)
    return cover_list_pdf(house.project, CoverPage(MONDAY, MONDAY, shown)).content


def many_windows(count):
    lines = [f"Front,W{number},{24 + number},60" for number in range(count)]
    return "\n".join(["elevation,mark,unit_width,unit_height", *lines]).encode()


def check_whole(pages, paper, *, belongs):
    """Hold a paper to what every one of ours keeps, whatever it says."""
    assert pages
    for number, page in enumerate(pages, 1):
        assert (round(page.width), round(page.height)) == SIZES[paper]
        # 16 mm left and right is every document's margin; printers leave out 1/4 in (6.35 mm) at the edges
        # (common practice, no source), which headers and page numbers keep clear of
        assert [box for box in page.ink if not box.lies_in(page.inside(16, 6.35))] == []
        assert page.overprinted() == []
        assert f"page {number} of {len(pages)}" in page.text
        assert belongs in page.text
        assert page.colours == 0


@papers
def test_an_order_stands_whole_on_its_paper_with_its_head_on_each_page(order, paper):
    pages = pages_of(order)

    check_whole(pages, paper, belongs="Draft")
    assert len(pages) > 1
    lined = [page for page in pages if "Material " in page.text]
    assert [page for page in lined if "Packs" not in page.text or "Total" not in page.text] == []
    text = "\n".join(page.text for page in pages)
    assert [n for n in range(69) if f"Material {n}\n" not in text and f"Material {n} " not in text] == []


@papers
def test_a_cover_by_list_stands_whole_on_its_paper_with_its_head_on_each_page(covers, paper):
    pages = pages_of(covers)

    check_whole(pages, paper, belongs=LONG[:10])
    assert len(pages) > 1
    assert [page for page in pages if "Wall " in page.text and "Exposure limit" not in page.text] == []


@papers
@override_settings(SITE_URL=SITE)
def test_a_crew_sheet_stands_whole_on_its_paper_and_its_code_opens_it(sheet, paper):
    pages = pages_of(sheet_pdf(sheet).content)

    check_whole(pages, paper, belongs="LOT-204 Front")
    path = reverse("sheet", args=[sheet.crew_id, MONDAY])
    assert [code for page in pages for code in page.codes] == [SITE + path]


@papers
@override_settings(SITE_URL=SITE)
def test_a_cut_list_stands_whole_on_its_paper_and_its_code_opens_it(cut, paper):
    house, page = cut
    pages = pages_of(cut_list_pdf(page).content)

    check_whole(pages, paper, belongs="Cut list LOT-1")
    assert len(pages) > 1
    opens = SITE + reverse("cut-list-house", args=[house.pk])
    assert [code for page in pages for code in page.codes] == [opens]


@papers
@override_settings(SITE_URL=SITE)
def test_labels_keep_their_places_on_both_papers_and_each_code_opens_the_list(cut, paper):
    house, page = cut
    content = labels_pdf(page).content
    pages = pages_of(content)

    check_whole(pages, paper, belongs="Labels, cut list LOT-1")
    # three across and ten down, each 59 x 24 mm, from 16 mm left and 18 mm down, on either paper
    places = [
        Box("", (16 + 59 * x) * MM, (18 + 24 * y) * MM, (75 + 59 * x) * MM, (42 + 24 * y) * MM)
        for y in range(10)
        for x in range(3)
    ]
    strips = sum(material.strips for material in page.materials)
    assert len(pages) == -(-strips // 30)
    for sheet in pages:
        outside = [box for box in sheet.ink if not any(box.lies_in(place) for place in places)]
        assert [box for box in outside if box.top < sheet.height - 18 * MM] == []
    opens = SITE + reverse("cut-list-house", args=[house.pk])
    codes = [code for sheet in pages for code in sheet.codes]
    assert codes == [opens] * strips


@papers
def test_without_an_address_of_the_site_no_code_is_drawn(cut, sheet, paper):
    _, page = cut

    for document in (sheet_pdf(sheet), cut_list_pdf(page), labels_pdf(page)):
        assert [code for shown in pages_of(document.content) for code in shown.codes] == []


def test_a_code_is_read_back_as_what_it_says():
    """Control of the reader: it reads one code, and none from a page with a blot on it."""
    code = code_of(SITE + "/crews/1/2026-06-08/")
    drawn = (
        f'<svg viewBox="0 0 {code.side} {code.side}" style="width: 22mm; height: 22mm">'
        f'<path d="{code.moves}"/>{{}}</svg>'
    )
    blot = f'<rect x="8" y="8" width="{code.side - 16}" height="{code.side - 16}"/>'

    assert [page.codes for page in pages_of(pdf_of(drawn.format("")))] == [[code.address]]
    assert [page.codes for page in pages_of(pdf_of(drawn.format(blot)))] == [[]]


@pytest.mark.parametrize(
    "body",
    [
        '<p style="white-space: nowrap">' + "A cell that is longer than its paper. " * 8 + "</p>",
        '<p style="margin-left: -30mm">Out at the left</p>',
    ],
)
def test_a_line_beyond_the_margin_would_be_seen(body):
    """Negative control of `check_whole`."""
    (page,) = pages_of(pdf_of(f"<style>@page {{ margin: 16mm }} </style>{body}"))

    assert [box for box in page.ink if not box.lies_in(page.inside(16, 6.35))]


def test_cells_that_run_into_each_other_and_colours_would_be_seen():
    """Negative control of `check_whole`."""
    table = '<table style="table-layout: fixed; width: 40mm; color: #b00"><td>{0}</td><td>{0}</td></table>'
    (page,) = pages_of(pdf_of(table.format(LONG)))

    assert page.overprinted()
    assert page.colours > 100


def test_changing_the_paper_draws_papers_anew_but_no_issued_order(manager, owner):
    site = build(manager)
    issued = site.issued()
    sent, made_from = order_pdf(order_of(site.by.company, issued.pk)).content, pdf_hash(issued)
    house = house_with(manager.company, code="LOT-7")
    listed = materials.make_cut_list(by=manager, house=house)
    was = papers_hash(listed)

    company = projects.edit_company(
        by=owner, version=None, name="Harrow", time_zone="America/New_York", sheets_hour=18, paper="a4"
    )

    listed.company.refresh_from_db()
    issued = order_of(company, issued.pk).row
    again = order_pdf(order_of(company, issued.pk)).content
    assert company.paper == "a4"
    assert papers_hash(listed) != was
    assert pdf_hash(issued) == made_from
    assert again == sent
    assert round(pages_of(again)[0].width) == SIZES["letter"][0]


def test_a_draft_is_drawn_for_the_papers_of_today(manager):
    site = build(manager)
    company, draft = site.by.company, site.draft()
    company.paper = "a4"
    company.save(update_fields=["paper"])

    (page, *_) = pages_of(order_pdf(order_of(company, draft.pk)).content)

    assert (round(page.width), round(page.height)) == SIZES["a4"]


def test_a_paper_that_nobody_makes_is_refused(owner):
    with pytest.raises(BadValue, match="Choose US Letter or A4"):
        projects.edit_company(
            by=owner, version=None, name="Harrow", time_zone="UTC", sheets_hour=18, paper="legal"
        )

    owner.company.refresh_from_db()
    assert owner.company.paper == "letter"
