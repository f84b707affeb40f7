"""The calendar read back by the library that writes calendars, and its lines by the rules of RFC 5545."""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import dateutil.rrule
import icalendar
import plans
import pytest
import seasons
from hand_made_garden import garden

from aquacalc import tables
from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Garden
from aquacalc.pages import jobs
from aquacalc.report import calendar
from aquacalc.words import Reader

MADE = date(2027, 2, 20)


def entry(**fields: object) -> Entry:
    whole: dict[str, object] = {
        "day": date(2027, 3, 6),
        "last": date(2027, 3, 6),
        "key": "sow",
        "subject": "basil",
        "place": "North bed",
        "mark": "2027-03-06",
        "count": 8.0,
    }
    return Entry(**(whole | fields))  # type: ignore[arg-type]


def written(
    entries: Iterable[Entry],
    folder: Path,
    of: Garden | None = None,
    reader: Reader | None = None,
) -> icalendar.Calendar:
    path = folder / "tasks.ics"
    calendar.write(entries, of or garden(), reader or Reader(), MADE, path)
    found = icalendar.Calendar.from_ical(path.read_bytes())
    assert isinstance(found, icalendar.Calendar)
    return found


def days_of(event: icalendar.Event) -> list[date]:
    """The days on which an entry begins, by its rule, as dateutil follows it, and its exceptions."""
    if "rrule" not in event:
        return [event.start]
    begin = datetime.combine(event.start, time())
    rule = dateutil.rrule.rrulestr(event["rrule"].to_ical().decode(), dtstart=begin)
    return [day.date() for day in rule if day.date() not in event.exdates]


def events(found: icalendar.Calendar) -> list[icalendar.Event]:
    return list(found.walk("VEVENT"))


def test_an_entry_is_a_whole_day_with_its_text(tmp_path: Path):
    found = written([entry()], tmp_path)
    assert (found["version"], found["prodid"]) == ("2.0", "-//aquacalc//season plan//EN")
    (event,) = events(found)
    assert event["dtstart"].dt == date(2027, 3, 6)
    assert event["dtend"].dt == date(2027, 3, 7)
    assert event["dtstamp"].dt == datetime(2027, 2, 20, tzinfo=UTC)
    assert event["summary"] == "Sow 8 seeds of Basil for North bed."
    assert event["location"] == "North bed"
    assert event["transp"] == "TRANSPARENT"
    assert "From the plan made 20 February 2027." in event["description"]


def test_a_span_ends_the_day_after_its_last(tmp_path: Path):
    (event,) = events(written([entry(key="pick", last=date(2027, 3, 19), low_g=1.0, high_g=2.0)], tmp_path))
    assert (event["dtstart"].dt, event["dtend"].dt) == (date(2027, 3, 6), date(2027, 3, 20))


@pytest.mark.parametrize("name", ["a; b, c\\d", "line\nbreak", "bell\x07", "Ähre, 50 % größer " * 10])
def test_any_name_comes_back(tmp_path: Path, name: str):
    of = replace(garden(), name=name)
    found = written([entry(place=name)], tmp_path, of)
    (event,) = events(found)
    whole = name.replace("\x07", " ").replace("\n", " ")
    # The library reads this one as it stands in the file, with its escapes.
    assert re.sub(r"\\(.)", r"\1", str(found["name"])) == whole
    assert str(event["location"]) == whole
    assert whole in str(event["summary"])


def test_lines_are_short_and_end_as_the_standard_asks(tmp_path: Path):
    written([entry(place="Beet mit Umlauten: äöüß " * 8)], tmp_path)
    raw = (tmp_path / "tasks.ics").read_bytes()
    lines = raw.split(b"\r\n")
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert lines[-2:] == [b"END:VCALENDAR", b""]
    assert all(len(line) <= 75 for line in lines)
    assert raw.count(b"\n") == raw.count(b"\r\n")


def test_identifiers_tell_what_the_entry_is_and_neither_when_nor_how_much(tmp_path: Path):
    def name(one: Entry, of: Garden | None = None) -> str:
        return str(events(written([one], tmp_path, of))[0]["uid"])

    first = name(entry())
    assert name(entry()) == first
    assert name(entry(day=date(2027, 3, 13), last=date(2027, 3, 13), count=9.0)) == first
    assert name(entry(day=date(2028, 4, 1), last=date(2028, 4, 1), mark="2028-04-01")) == first
    assert first not in (
        name(entry(key="plant")),
        name(entry(place="South bed")),
        name(entry(subject="dill")),
    )
    assert name(entry(), replace(garden(), name="Another garden")) != first


def test_what_is_told_otherwise_as_it_comes_nearer_is_the_same_job():
    near, far = (entry(key=key, grams=20.0, low_g=10.0, high_g=30.0) for key in ("pick", "pick_once"))
    names = [one.identifier(garden()) for found in (near, far) for one in calendar.series([found])]
    assert names[0] == names[1]


def weekly(*days: date, **fields: object) -> list[Entry]:
    whole = {"key": "test", "subject": "", "place": "", "count": float("nan")} | fields
    return [entry(day=day, last=day, **whole) for day in days]


def test_tests_that_come_back_are_one_entry_with_its_exceptions(tmp_path: Path):
    days = [date(2027, 3, 6) + timedelta(weeks=week) for week in (0, 1, 3, 4, 6)]
    (event,) = events(written(weekly(*days), tmp_path))
    assert event["dtstart"].dt == days[0]
    assert dict(event["rrule"]) == {"FREQ": ["WEEKLY"], "UNTIL": [days[-1]]}
    assert [one.dt for one in event["exdate"].dts] == [date(2027, 3, 20), date(2027, 4, 10)]
    assert b"EXDATE;VALUE=DATE:20270320,20270410" in (tmp_path / "tasks.ics").read_bytes()


def test_tests_of_the_months_come_back_on_the_first_such_day_of_the_week(tmp_path: Path):
    days = [date(2027, 3, 6), date(2027, 4, 3), date(2027, 6, 5)]
    moved = date(2027, 7, 12)
    found = [
        *weekly(*days, key="supplement", subject="iron", under=1.0, to=2.0),
        *weekly(moved, key="supplement", subject="iron", under=1.0, to=2.0, moved_from=date(2027, 7, 3)),
    ]
    event, apart = events(written(found, tmp_path))
    assert dict(event["rrule"]) == {"FREQ": ["MONTHLY"], "BYDAY": ["1SA"], "UNTIL": [days[-1]]}
    assert [one.dt for one in event["exdate"].dts] == [date(2027, 5, 1)]
    assert (days_of(event), days_of(apart)) == (days, [moved])


def test_a_test_that_was_moved_or_falls_to_somebody_else_stands_apart(tmp_path: Path):
    home = weekly(date(2027, 3, 6), date(2027, 3, 13), date(2027, 4, 3))
    moved = weekly(date(2027, 3, 22), moved_from=date(2027, 3, 20))
    sitter = weekly(date(2027, 3, 27), away="a neighbour")
    first, second, third = events(written([*home, *moved, *sitter], tmp_path))
    assert [one.dt for one in first["exdate"].dts] == [date(2027, 3, 20), date(2027, 3, 27)]
    assert "rrule" not in second
    assert "Moved from 20 March 2027" in second["description"]
    assert "rrule" not in third
    assert "a neighbour" in third["description"]


def test_an_alarm_stands_only_where_a_day_cannot_be_made_up_for(tmp_path: Path):
    fish = {"subject": "Perch", "place": "Pool"}
    found = [entry(key=key, **fish) for key in ("stock", "fast", "take")]
    found.append(entry(key="visit", subject="a neighbour", place="", last=date(2027, 3, 12)))
    for event in events(written(found, tmp_path)):
        (alarm,) = event.walk("VALARM")
        assert alarm["action"] == "DISPLAY"
        assert alarm["description"] == event["summary"]
        assert event["dtstart"].dt == date(2027, 3, 6)
        assert alarm["trigger"].dt == timedelta(hours=-15)
    others = [entry(), entry(key="plant"), *weekly(date(2027, 3, 6))]
    assert all(not event.walk("VALARM") for event in events(written(others, tmp_path)))


def test_entries_that_are_alike_stay_two(tmp_path: Path):
    names = [str(one["uid"]) for one in events(written([entry(), entry()], tmp_path))]
    assert len(set(names)) == 2


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_calendars_of_demo_gardens(tmp_path: Path, name: str):
    run, of = seasons.season(name), seasons.garden(name)
    entries = jobs.entries(plans.of_season(name))
    found = events(written(entries, tmp_path, of, of.reader))
    last = run.date(run.days - 1)
    assert sorted(day for one in found for day in days_of(one)) == sorted(one.day for one in entries)
    assert len(found) < len(entries) - 25
    assert len({str(one["uid"]) for one in found}) == len(found)
    chemicals = [row.text("name").casefold() for row in tables.load("chemicals")]
    for one in found:
        assert run.first <= one["dtstart"].dt < one["dtend"].dt <= last + timedelta(days=1)
        assert all(day <= last for rule in one.rrules for day in rule["UNTIL"])
        said = f"{one['summary']} {one['description']}".casefold()
        assert "\u00a0" not in said
        if any(chemical in said for chemical in chemicals) or "dose" in said:
            assert str(one["summary"]).startswith("Test ")
            assert ", then " in one["summary"]


def test_every_change_of_feed_stands_once_for_a_batch():
    entries = jobs.entries(plans.of_season("greenhouse"))
    fed = [(one.subject, one.day) for one in entries if one.key in ("feed", "bag")]
    assert len(fed) == len(set(fed)) > 40


def test_the_same_run_gives_the_same_bytes(tmp_path: Path):
    of = seasons.garden("yard")
    entries = jobs.entries(plans.of_season("yard"))
    for name in ("a.ics", "b.ics"):
        calendar.write(entries, of, of.reader, MADE, tmp_path / name)
    assert (tmp_path / "a.ics").read_bytes() == (tmp_path / "b.ics").read_bytes()
