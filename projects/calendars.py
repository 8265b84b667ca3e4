"""Days and hours as a calendar file that phones and desks open. The only place that knows the library. Pure.

Source: RFC 5545.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event, Timezone

CALENDAR = "text/calendar; charset=utf-8"
PRODUCT = "-//Lapwise//Lapwise//EN"
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Hours:
    """From when to when in minutes after midnight, by the clocks of `zone`, an IANA name."""

    start_min: int
    end_min: int
    zone: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a calendar: of the whole `day`, or of some hours of it.

    `key` stays with what it is about, so that a calendar that is read again replaces the entry instead of
    adding a second one.
    """

    key: str
    title: str
    day: date
    where: str = ""
    told: str = ""
    hours: Hours | None = None


def calendar_of(name: str, entries: Sequence[Entry], *, at: datetime) -> bytes:
    """Return the calendar file: UTF-8, lines of at most 75 octets that end in CRLF. `at` is when it is made.

    Hours stand as people read them, with the rules of their zone beside them.
    """
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("name", name)
    for zone in _zones(entries):
        calendar.add_component(zone)
    for entry in entries:
        calendar.add_component(_event(entry, at))
    content: bytes = calendar.to_ical()
    return content


def _event(entry: Entry, at: datetime) -> Event:
    event = Event()
    event.add("uid", f"{entry.key}@lapwise")
    event.add("dtstamp", at)
    event.add("summary", entry.title)
    if entry.hours is None:
        event.add("dtstart", entry.day)
        event.add("dtend", entry.day + ONE_DAY)
        event.add("transp", "TRANSPARENT")
    else:
        event.add("dtstart", _moment(entry.day, entry.hours.start_min, entry.hours.zone))
        event.add("dtend", _moment(entry.day, entry.hours.end_min, entry.hours.zone))
    for field, text in (("location", entry.where), ("description", entry.told)):
        if text:
            event.add(field, text)
    return event


def _zones(entries: Sequence[Entry]) -> Iterator[Timezone]:
    days: dict[str, list[date]] = {}
    for entry in entries:
        if entry.hours:
            days.setdefault(entry.hours.zone, []).append(entry.day)
    for zone, of_zone in days.items():
        # a year before and after: an entry that somebody moves by hand still finds its rule
        first, last = min(of_zone) - 366 * ONE_DAY, max(of_zone) + 366 * ONE_DAY
        yield Timezone.from_tzinfo(ZoneInfo(zone), zone, first, last)


def _moment(day: date, minutes: int, zone: str) -> datetime:
    # by the clock on the wall, not so many minutes since midnight: a day may have 23 or 25 hours
    whole_days, of_day = divmod(minutes, 24 * 60)
    clock = time(of_day // 60, of_day % 60, tzinfo=ZoneInfo(zone))
    return datetime.combine(day + whole_days * ONE_DAY, clock)
