"""The entries of a season as a calendar file (RFC 5545, its rules from memory), for any calendar program.

Entries are whole days and leave the day free. An identifier tells what a job is, never when: the garden, the
kind of job, what and where it is about, the place in its series. So the next plan of the same garden replaces
the entries of the last (`report.succession`). What comes back in the same words, week by week or month by
month, is one entry that recurs. An alarm stands only where the day cannot be made up for.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.garden.model import Garden
from aquacalc.report.days import plain
from aquacalc.sentences import tasks
from aquacalc.words import Reader

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT = "-//aquacalc//season plan//EN"
DOMAIN = "aquacalc"
LETTERS = 32
"""Of a digest that tells entries apart."""

Every = Literal["weekly", "monthly"]
WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
SAME_KIND = {"pick_once": "pick"}
"""Keys that are the same job, told otherwise as it comes nearer."""
RECURRING: Mapping[str, Every] = {
    "test": "weekly",
    "filter_food": "weekly",
    "change": "weekly",
    "supplement": "monthly",
}
"""Keys of what comes back in the same words: every week, or on the first such day of the week in a month."""
WITH_ALARM = ("stock", "fast", "take", "visit")
"""Keys of entries whose day cannot be made up for: fish arrive, get their last feed, are taken out; somebody
else looks after the garden."""
ALARM = timedelta(hours=-15)
"""At nine in the morning of the day before."""
SEQUENCE_FROM = date(2026, 1, 1)
"""The day from which the days are counted that number a plan's revisions: a plan that is made later counts
more also where the last one is not at hand."""


@dataclass(frozen=True)
class Series:
    """An entry that stands alone, or the first of those that come back in the same words.

    place: in the series of such jobs, from 1; every: how they come back, None where it stands alone; last:
    first day of the last one; left_out: days between on which there is none.
    """

    first: Entry
    kind: str
    place: int
    last: date
    every: Every | None = None
    left_out: tuple[date, ...] = ()

    @property
    def rule(self) -> dict[str, object]:
        """The rule by which it comes back; empty where it stands alone."""
        if self.every is None:
            return {}
        rule: dict[str, object] = {"freq": self.every, "until": self.last}
        if self.every == "monthly":
            rule["byday"] = f"1{WEEKDAYS[self.first.day.weekday()]}"
        return rule

    def identifier(self, garden: Garden) -> str:
        """What the job is known by in every plan of the garden."""
        about = [garden.name, self.kind, self.first.subject, self.first.place, str(self.place)]
        whole = hashlib.sha256("\n".join(about).encode()).hexdigest()
        return f"{whole[:LETTERS]}@{DOMAIN}"


def write(entries: Iterable[Entry], garden: Garden, reader: Reader, made: date, path: Path) -> None:
    """Write the entries, in the reader's units; made: day of the run."""
    # Imported here because it is slow to load.
    from icalendar import Calendar, vText

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    # The library does not know that this one is a text, to be escaped as one.
    calendar.add("name", vText(plain(garden.name)))
    for one in series(entries):
        calendar.add_component(_event(one, garden, reader, made))
    path.write_bytes(calendar.to_ical())


def series(entries: Iterable[Entry]) -> Iterator[Series]:
    """The entries with their places in their series, recurring ones together, by day."""
    seen: Counter[tuple[str, str, str]] = Counter()
    for group in sorted(_together(list(entries)), key=lambda group: group[0].day):
        first, days = group[0], [one.day for one in group]
        kind = SAME_KIND.get(first.key, first.key)
        every = RECURRING[first.key] if len(group) > 1 else None
        about = (f"{every} {kind}" if every else kind, first.subject, first.place)
        seen[about] += 1
        left_out = () if every is None else tuple(sorted({*_days(days[0], days[-1], every)} - set(days)))
        yield Series(first, about[0], seen[about], days[-1], every, left_out)


def _together(entries: Sequence[Entry]) -> Iterator[list[Entry]]:
    """Entries one by one; those that come back in the same words on the same day of the week together."""

    def alike(one: Entry) -> tuple[str, str, str, int, str]:
        return one.key, one.subject, one.place, one.day.weekday(), one.away or str(one.away)

    again = [one for one in entries if _comes_back(one)]
    for _, group in groupby(sorted(again, key=lambda one: (*alike(one), one.day)), key=alike):
        yield list(group)
    yield from ([one] for one in entries if not _comes_back(one))


def _comes_back(one: Entry) -> bool:
    """Whether an entry can be one of several that recur: on the day on which the rule has it."""
    every = RECURRING.get(one.key)
    on_its_day = every == "weekly" or (every == "monthly" and one.day.day <= DAYS_PER_WEEK)
    return on_its_day and one.moved_from is None


def _days(first: date, last: date, every: Every) -> Iterator[date]:
    """The days of a rule: every week, or the first such day of the week in each month."""
    day = first
    while day <= last:
        if every == "weekly" or day.day <= DAYS_PER_WEEK:
            yield day
        day += timedelta(days=DAYS_PER_WEEK)


def _event(one: Series, garden: Garden, reader: Reader, made: date) -> Event:
    from icalendar import Event

    entry, event = one.first, Event()
    event.add("uid", one.identifier(garden))
    event.add("dtstamp", datetime.combine(made, time(), UTC))
    event.add("sequence", revision(made))
    event.add("dtstart", entry.day)
    event.add("dtend", entry.last + timedelta(days=1))  # the first day after it
    if one.rule:
        event.add("rrule", one.rule)
    if one.left_out:
        event.add("exdate", list(one.left_out))
    what = plain(tasks.what(entry, garden, reader))
    foot = words.say("task-from-plan", reader, made=words.date(made, reader))
    event.add("summary", what)
    event.add("description", "\n".join(map(plain, [*tasks.more(entry, garden, reader), foot])))
    if entry.place:
        event.add("location", plain(entry.place))
    event.add("transp", "TRANSPARENT")
    if entry.key in WITH_ALARM:
        _add_alarm(event, what)
    return event


def revision(made: date) -> int:
    """Number of the revision of what is told on a day."""
    return max((made - SEQUENCE_FROM).days, 0)


def _add_alarm(event: Event, what: str) -> None:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", what)
    alarm.add("trigger", ALARM)
    event.add_component(alarm)
