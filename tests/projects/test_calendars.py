"""A calendar file holds to RFC 5545, and its hours are those on the wall, whatever the clocks do."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from projects.calendars import Entry, Hours, calendar_of

AT = datetime(2026, 3, 1, 12, 30, tzinfo=UTC)
# New York's clocks go on at 2:00 on 8 March 2026 and back at 2:00 on 1 November (IANA tz database, America)
SPRING, AUTUMN = date(2026, 3, 8), date(2026, 11, 1)
NAMED = 'LOT-204; Front, then \\n the "Rear" wall: Fensterlüftungsöffnung ½ 窗 ' * 3


def shift(day, start=420, end=930, zone="America/New_York"):
    return Entry(f"crew-1-{day.isoformat()}", f"RED: {day}", day, hours=Hours(start, end, zone))


def events(content):
    return list(Calendar.from_ical(content).walk("VEVENT"))


@pytest.mark.parametrize(
    ("day", "utc"),
    [
        # 7:00 is 12:00 UTC by standard time (5 h behind) and 11:00 UTC by summer time (4 h behind)
        (date(2026, 3, 7), "12:00"),
        (SPRING, "11:00"),
        (date(2026, 10, 31), "11:00"),
        (AUTUMN, "12:00"),
    ],
)
def test_a_crews_morning_is_at_seven_by_the_clock_on_the_wall(day, utc):
    (event,) = events(calendar_of("Crews", [shift(day)], at=AT))

    start = event["dtstart"]
    assert start.params["TZID"] == "America/New_York"
    assert (start.dt.date(), f"{start.dt:%H:%M}") == (day, "07:00")
    assert f"{start.dt.astimezone(UTC):%H:%M}" == utc


@pytest.mark.parametrize(("day", "hours"), [(date(2026, 3, 7), 24), (SPRING, 23), (AUTUMN, 25)])
def test_a_day_from_midnight_to_midnight_is_as_long_as_the_clocks_make_it(day, hours):
    (event,) = events(calendar_of("Crews", [shift(day, 0, 1440)], at=AT))

    first, last = event["dtstart"].dt.astimezone(UTC), event["dtend"].dt.astimezone(UTC)
    assert last - first == timedelta(hours=hours)
    assert event["dtend"].dt.date() == day + timedelta(days=1)


@pytest.mark.parametrize(
    "zone", ["America/New_York", "America/Phoenix", "Australia/Lord_Howe", "Asia/Kathmandu"]
)
def test_the_file_carries_the_zones_rules_for_each_of_its_days(zone):
    days = [SPRING + timedelta(days=n) for n in (-1, 0, 1, 100, 237, 238, 239, 400)]
    calendar = Calendar.from_ical(calendar_of("Crews", [shift(day, zone=zone) for day in days], at=AT))

    (rules,) = calendar.walk("VTIMEZONE")
    assert rules["tzid"] == zone
    for day in days:
        morning = datetime(day.year, day.month, day.day, 7)
        assert offset_by(rules, morning) == morning.replace(tzinfo=ZoneInfo(zone)).utcoffset()


def offset_by(rules, local):
    """Return the offset of the rule whose beginning came last before the moment: RFC 5545, 3.6.5."""
    begun = []
    for part in rules.subcomponents:
        more = part.get("rdate")
        listed = [more] if more is not None and not isinstance(more, list) else more or []
        starts = [part["dtstart"].dt, *(each.dt for dates in listed for each in dates.dts)]
        begun += [(start, part["tzoffsetto"].td) for start in starts if start <= local]
    return max(begun)[1]


def test_lines_fold_at_75_octets_and_come_back_as_they_were():
    content = calendar_of("Crews", [Entry("a", NAMED, SPRING, NAMED, NAMED)], at=AT)

    # RFC 5545, 3.1: lines end in CRLF and have at most 75 octets; a fold is CRLF and a space
    assert content.endswith(b"\r\n")
    assert content.count(b"\n") == content.count(b"\r\n")
    assert max(len(line) for line in content.split(b"\r\n")) <= 75
    assert b"\r\n " in content
    (event,) = events(content)
    read = {str(event[field]) for field in ("summary", "location", "description")}
    assert read == {NAMED}


def test_every_entry_has_what_the_standard_asks_for_once():
    content = calendar_of("Crews", [shift(SPRING), Entry("order-7", "Due", AUTUMN)], at=AT)

    lines = content.decode().replace("\r\n ", "").split("\r\n")
    # RFC 5545, 3.6: PRODID and VERSION once; 3.6.1: UID and DTSTAMP once per event; 3.8.7.2: DTSTAMP in UTC
    assert [lines.count("VERSION:2.0"), sum(line.startswith("PRODID:") for line in lines)] == [1, 1]
    assert [line for line in lines if line.startswith("DTSTAMP")] == ["DTSTAMP:20260301T123000Z"] * 2
    assert [line for line in lines if line.startswith("UID")] == [
        "UID:crew-1-2026-03-08@lapwise",
        "UID:order-7@lapwise",
    ]
    # 3.6.1: an event of a whole day ends on the day after, which is not in it
    assert "DTSTART;VALUE=DATE:20261101" in lines
    assert "DTEND;VALUE=DATE:20261102" in lines


def test_the_same_day_keeps_its_uid_when_it_is_told_anew():
    first = events(calendar_of("Crews", [shift(SPRING)], at=AT))
    again = events(calendar_of("Crews", [shift(SPRING, start=480)], at=AT + timedelta(days=3)))

    assert first[0]["uid"] == again[0]["uid"]


def test_a_day_of_twenty_four_hours_would_be_seen():
    """Negative control: minutes added to midnight instead of read off the clock are an hour off."""
    midnight = datetime(2026, 3, 8, tzinfo=ZoneInfo("America/New_York")).astimezone(UTC)
    wrong = midnight + timedelta(minutes=420)

    (event,) = events(calendar_of("Crews", [shift(SPRING)], at=AT))

    assert event["dtstart"].dt.astimezone(UTC) != wrong
