"""From one plan's calendar to the next: what an import of the new file has to tell about the last one.

By RFC 5545 (from memory) a job that is told again under its identifier replaces the one that a calendar holds
if its SEQUENCE is not lower, and one of STATUS CANCELLED takes it out. Jobs that lie before the new plan are
past and stay as they are.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from aquacalc import words
from aquacalc.report import calendar
from aquacalc.words import Reader

if TYPE_CHECKING:
    from icalendar import Event

CANCELLED = "CANCELLED"


def follow(path: Path, last: Path, first: date, made: date, reader: Reader) -> None:
    """Make a calendar file follow the one of the last plan, if there is one of the same garden.

    first, made: first day of the new plan, and the day on which it is made. What has changed gets a higher
    SEQUENCE, what has not keeps its own; what fell away on `first` or later is added as cancelled, and stays
    so in the plans to come, because not each of them is imported.
    """
    if not last.is_file():
        return
    # Imported here because it is slow to load.
    from icalendar import Calendar

    new, old = (Calendar.from_ical(one.read_bytes()) for one in (path, last))
    if new.get("name") != old.get("name"):
        return
    known = {str(event["uid"]): event for event in old.events}
    for event in new.events:
        before = known.pop(str(event["uid"]), None)
        if before is not None:
            _replace(event, before)
    for event in known.values():
        if _last_day(event) >= first:
            new.add_component(event if event.status == CANCELLED else _cancelled(event, made, reader))
    path.write_bytes(new.to_ical())


def _replace(event: Event, before: Event) -> None:
    """Number an entry after the one that it replaces."""
    if _told(event) == _told(before):
        _set(event, sequence=before.sequence, dtstamp=before.DTSTAMP)
    else:
        _set(event, sequence=max(event.sequence, before.sequence + 1))


def _cancelled(event: Event, made: date, reader: Reader) -> Event:
    """An entry of the last plan, taken out; a calendar that does not heed that shows it in the text."""
    what = words.say("task-cancelled", reader, what=str(event["summary"]))
    event.subcomponents = []  # without its alarm
    _set(
        event,
        sequence=max(calendar.revision(made), event.sequence + 1),
        dtstamp=datetime.combine(made, time(), UTC),
        status=CANCELLED,
        summary=what,
    )
    return event


def _told(event: Event) -> list[bytes]:
    """What an entry says, without the numbers of its revision."""
    lines: list[bytes] = event.to_ical().split(b"\r\n")
    return [line for line in lines if not line.startswith((b"DTSTAMP", b"SEQUENCE"))]


def _set(event: Event, **values: object) -> None:
    for name, value in values.items():
        event.pop(name, None)
        event.add(name, value)


def _last_day(event: Event) -> date:
    """The last day of an entry; of one that recurs, of its last time."""
    until = [day for rule in event.rrules for day in rule.get("until", ())]
    last: date = until[0] if until else event.end - timedelta(days=1)
    return last
