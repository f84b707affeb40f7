"""The entries of a season as a calendar file (RFC 5545), for any calendar program.

Entries are whole days and leave the day free. The same entry of the same garden file has the same identifier,
so that a plan that is made again replaces its entries.
"""

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

from aquacalc import words
from aquacalc.garden.model import Garden
from aquacalc.harvest.tasks import Entry
from aquacalc.report.days import plain
from aquacalc.sentences import tasks
from aquacalc.words import Reader

PRODUCT = "-//aquacalc//season plan//EN"
DOMAIN = "aquacalc"
LETTERS = 32
"""Of a digest that tells entries apart."""


def write(
    entries: Iterable[Entry], garden: Garden, reader: Reader, digest: str, made: date, path: Path
) -> None:
    """Write the entries, in the reader's units; digest: of the garden's file, made: day of the run."""
    # Imported here because it is slow to load.
    from icalendar import Calendar, Event, vText

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    # The library does not know that this one is a text, to be escaped as one.
    calendar.add("name", vText(plain(garden.name)))
    foot = words.say("task-from-plan", reader, made=words.date(made, reader))
    for entry, name in identified(entries, digest or garden.name):
        event = Event()
        event.add("uid", name)
        event.add("dtstamp", datetime.combine(made, time(), UTC))
        event.add("dtstart", entry.day)
        event.add("dtend", entry.last + timedelta(days=1))  # the first day after it
        event.add("summary", plain(tasks.what(entry, garden, reader)))
        event.add("description", "\n".join(map(plain, [*tasks.more(entry, garden, reader), foot])))
        if entry.place:
            event.add("location", plain(entry.place))
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    path.write_bytes(calendar.to_ical())


def identified(entries: Iterable[Entry], garden: str) -> Iterator[tuple[Entry, str]]:
    """Every entry with its identifier, which rests on the garden and on what the entry is about."""
    seen: Counter[str] = Counter()
    for entry in entries:
        about = "\n".join([garden, entry.key, entry.subject, entry.place, entry.mark])
        seen[about] += 1
        whole = hashlib.sha256(f"{about}\n{seen[about]}".encode()).hexdigest()
        yield entry, f"{whole[:LETTERS]}@{DOMAIN}"
