"""The pages of windows: ticked beside the truck, inspected, damaged, taken back; the office's list."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from openings.models import WindowEntry, WindowRecord
from projects.services import archive_house
from tests.access import hostile
from tests.factories.crews import house_with
from tests.factories.houses import HouseFactory
from tests.openings.windows import pictures
from tests.openings.windows.building import (
    accepted,
    came,
    damaged,
    key,
    opening,
    sent_back,
    states,
    widen,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def boss(client_of, foreman):
    return client_of(foreman)


def text_of(answer) -> str:
    """Return what a person reads, spaces made single."""
    without_tags = re.sub(r"<[^>]+>", " ", answer.content.decode())
    plain = without_tags.replace("&#x27;", "'").replace("&quot;", '"').replace("&times;", "×")
    return re.sub(r"\s+", " ", plain.replace("\u00a0", " "))


def ticks(answer, place) -> dict[str, str]:
    """Return the ticks of one list of the page by mark: what its boxes would send."""
    found = re.findall(
        rf'name="opening" value="([0-9-]+)" id="{place}-[0-9]+".*?<bdi>(.*?)</bdi>',
        answer.content.decode(),
        re.DOTALL,
    )
    return {mark: tick for tick, mark in found}


def key_of(answer, place) -> str:
    return re.search(rf'name="key" value="([0-9a-f]+-{place})"', answer.content.decode())[1]


def count(boss, house, *marks, page=None):
    page = page or boss.get(f"/houses/{house.pk}/windows/")
    chosen = [ticks(page, "came")[mark] for mark in marks]
    entry = {"key": key_of(page, "came"), "opening": chosen}
    return boss.post(f"/houses/{house.pk}/windows/count/", entry, follow=True)


def test_the_list_shows_mark_and_size_in_inches_and_millimetres(boss, house):
    page = text_of(boss.get(f"/houses/{house.pk}/windows/"))

    # 36 in are 914.4 mm, 60 in 1524, 24 in 609.6
    assert '101 36" × 60" 914 × 1524 mm' in page
    assert '202 24" × 36" 610 × 914 mm' in page
    assert "Not here yet: 5" in page


def test_ticked_windows_are_counted_and_undo_is_offered_at_once(boss, house):
    answer = count(boss, house, "101", "202")

    assert "2 windows are counted." in text_of(answer)
    assert states(house) | {"101": "here", "202": "here"} == states(house)
    undo = re.search(r'action="(/windows/entries/\d+/take-back/)"', answer.content.decode())[1]

    back = boss.post(undo, follow=True)

    assert "It is taken back; both stay in the history." in text_of(back)
    assert set(states(house).values()) == {"not here yet"}
    assert WindowRecord.objects.count() == 4


def test_the_button_pressed_twice_counts_once(boss, house):
    page = boss.get(f"/houses/{house.pk}/windows/")

    first, second = (count(boss, house, "101", page=page) for _ in range(2))

    assert first.status_code == second.status_code == 200
    assert WindowRecord.objects.count() == 1


def test_ticks_that_somebody_else_counted_stop_all_and_stay_ticked(boss, manager, house):
    page = boss.get(f"/houses/{house.pk}/windows/")
    came(manager, house, "102")

    answer = count(boss, house, "101", "102", page=page)

    assert answer.status_code == 409
    assert "Window 102 is here, so it can't be counted." in text_of(answer)
    assert f'id="came-{opening(house, "101").pk}" checked' in answer.content.decode()
    assert states(house)["101"] == "not here yet"


def test_inspected_windows_are_accepted_together(boss, house):
    count(boss, house, "101", "102", "103")
    page = boss.get(f"/houses/{house.pk}/windows/")
    good = [ticks(page, "good")[mark] for mark in ("101", "102")]

    answer = boss.post(
        f"/houses/{house.pk}/windows/accept/", {"key": key_of(page, "good"), "opening": good}, follow=True
    )

    assert "2 windows are accepted." in text_of(answer)
    assert "Here: 1" in text_of(answer)
    assert "Accepted: 2" in text_of(answer)


@pytest.mark.parametrize("tick", ["", "x", "1-2", "0-1-1", "1-1-1x", "9" * 30 + "-1-1", "²-1-1"])
def test_a_tick_that_no_page_wrote_is_refused(boss, house, tick):
    for act in ("count", "accept"):
        answer = boss.post(f"/houses/{house.pk}/windows/{act}/", {"key": key(), "opening": [tick]})

        assert answer.status_code == 422
    assert not WindowEntry.objects.exists()


def test_nothing_ticked_is_said_on_the_page(boss, house):
    answer = boss.post(f"/houses/{house.pk}/windows/count/", {"key": key()})

    assert answer.status_code == 422
    assert "No window is ticked. Tick at least one." in text_of(answer)


def test_another_label_is_said_on_its_page_and_offers_no_acceptance(boss, house):
    row = opening(house, "101")

    answer = boss.post(
        f"/openings/{row.pk}/window/label/", {"key": key(), "width": "30", "height": "60"}, follow=True
    )

    assert "Window 101 is of another size than scheduled, so it can't be accepted." in text_of(answer)
    page = text_of(boss.get(f"/openings/{row.pk}/window/"))
    assert 'Stands another size Schedule 36" × 60" 914 × 1524 mm Label 30" × 60" 762 × 1524 mm' in page
    assert "Accept it" not in page


@pytest.mark.parametrize(
    ("width", "status"), [("914 mm", 302), ("3'", 302), ("x", 422), ("0", 422), ("9000", 422)]
)
def test_a_label_is_typed_in_inches_or_millimetres(boss, house, width, status):
    address = f"/openings/{opening(house, '101').pk}/window/label/"

    assert boss.post(address, {"key": key(), "width": width, "height": "60"}).status_code == status


def test_damage_is_reported_with_a_photo_and_says_by_when_to_claim(boss, foreman, house, time_machine):
    time_machine.move_to(dt.datetime(2026, 6, 8, 16, tzinfo=dt.UTC), tick=False)
    came(foreman, house, "101")
    row = opening(house, "101")
    entry = {
        "key": key(),
        "what": "crack, lower left",
        "photos": [SimpleUploadedFile("a.jpg", pictures.jpeg()), SimpleUploadedFile("b.png", pictures.png())],
    }

    answer = boss.post(f"/openings/{row.pk}/window/damage/", entry, follow=True)

    # Monday and 3 days
    assert "Window 101 is damaged. Claim it by Thu 11 Jun." in text_of(answer)
    page = boss.get(f"/openings/{row.pk}/window/").content.decode()
    assert page.count('<img src="/windows/photos/') == 2
    assert "Photo 1 of window 101: crack, lower left" in page


def test_the_office_reads_the_first_claim_first_and_which_are_past(
    client_of, manager, foreman, house, time_machine
):
    came(foreman, house, "101", "102", "103")
    for day, mark in ((9, "102"), (8, "101"), (4, "103")):
        time_machine.move_to(dt.datetime(2026, 6, day, 16, tzinfo=dt.UTC), tick=False)
        damaged(foreman, house, mark, what=f"crack in {mark}")
    # to be claimed by: 103 Sunday 7 June, 101 Thursday 11, 102 Friday 12; it is Thursday at the company
    time_machine.move_to(dt.datetime(2026, 6, 12, 2, tzinfo=dt.UTC), tick=False)

    page = text_of(client_of(manager).get("/windows/damaged/"))

    assert re.findall(r"(\d+) (\w+ \d+ Jun)( past)?", page) == [
        ("103", "Sun 7 Jun", " past"),
        ("101", "Thu 11 Jun", ""),
        ("102", "Fri 12 Jun", ""),
    ]


def test_what_was_sent_back_or_accepted_all_the_same_leaves_the_list(client_of, manager, foreman, house):
    came(foreman, house, "101", "102")
    damaged(foreman, house, "101")
    damaged(foreman, house, "102")
    sent_back(foreman, house, "101")
    accepted(foreman, house, "102")

    assert "No window stands damaged." in text_of(client_of(manager).get("/windows/damaged/"))


def test_an_archived_house_is_shown_and_not_listed(client_of, manager, foreman, house):
    came(foreman, house, "101")
    damaged(foreman, house, "101")
    archive_house(by=manager, house=house)
    office = client_of(manager)

    page = office.get(f"/houses/{house.pk}/windows/")

    assert "Damaged: 1" in text_of(page)
    assert "<button" not in re.sub(r"<footer.*", "", page.content.decode(), flags=re.DOTALL).split("<main")[1]
    assert "No window stands damaged." in text_of(office.get("/windows/damaged/"))


def test_a_house_counts_its_windows(client_of, manager, foreman, house):
    came(foreman, house, "101", "102", "103")
    accepted(foreman, house, "101")
    widen(manager, house, "103", 30)

    page = text_of(client_of(manager).get(f"/houses/{house.pk}/"))

    assert "2 not here yet, 1 here, 1 another size, 1 accepted." in page


def test_the_window_s_page_tells_its_history_the_last_first(boss, foreman, house):
    entry = came(foreman, house, "101", "102")
    accepted(foreman, house, "101")
    sent_back(foreman, house, "101", why="bent frame")

    page = text_of(boss.get(f"/openings/{opening(house, '101').pk}/window/"))

    told = re.findall(r"(Sent back : bent frame|Accepted|Counted) by Ferris Tamm", page)
    assert told == ["Sent back : bent frame", "Accepted", "Counted"]
    assert entry.records.count() == 2


def test_taking_back_says_how_many_others_it_is_for(boss, foreman, house):
    came(foreman, house, "101", "102", "103")

    page = text_of(boss.get(f"/openings/{opening(house, '101').pk}/window/"))

    assert "2 other windows stood in the same entry: it is taken back for them too." in page


def test_a_house_without_openings_says_what_comes_first(boss, company):
    page = text_of(boss.get(f"/houses/{HouseFactory(project__company=company).pk}/windows/"))

    assert "this house has none yet. The office imports it." in page


@pytest.mark.parametrize("number", [1, 30])
def test_the_pages_take_the_same_queries_at_any_size(
    boss, company, foreman, number, django_assert_num_queries
):
    marks = [f"W{one}" for one in range(number)]
    house = house_with(company, *[f"Front,{mark},36,60,,," for mark in marks], accepted=False)
    came(foreman, house, *marks)
    for mark in marks:
        damaged(foreman, house, mark, photos=[])
    boss.get("/")

    # session, person, membership; then the page's own
    with django_assert_num_queries(3 + 4):
        boss.get(f"/houses/{house.pk}/windows/")
    with django_assert_num_queries(3 + 4):
        boss.get("/windows/damaged/")


def test_hostile_texts_stay_texts(boss, foreman, client_of, manager, company):
    texts = hostile.ALL
    house = house_with(company, *[f"Front,W{at},36,60,,," for at in range(len(texts))], accepted=False)
    came(foreman, house, *[f"W{at}" for at in range(len(texts))])
    for at, text in enumerate(texts):
        damaged(foreman, house, f"W{at}", what=text[:200])

    found = hostile.read(client_of(manager).get("/windows/damaged/").content.decode())

    assert found.faults == []
    for at, text in enumerate(texts):
        page = hostile.read(boss.get(f"/openings/{opening(house, f'W{at}').pk}/window/").content.decode())
        assert page.faults == []
        assert any(text in shown for shown in found.shown)
        assert any(text in shown for shown in page.shown)
