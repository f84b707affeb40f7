"""Successive plans in a calendar: after each import it holds the newest plan and nothing of the last.

The store takes an import in as RFC 5545, 3.8.7.4 and 3.8.1.11 have it (from memory), and reads it by the
icalendar library: of two entries with one UID that of the higher SEQUENCE holds, then that of the later
DTSTAMP; one of STATUS CANCELLED is gone.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import icalendar
import plans
import pytest
import seasons
from hand_made_garden import garden
from test_report_calendar import entry, weekly

from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Garden
from aquacalc.pages import jobs
from aquacalc.report import calendar, succession
from aquacalc.season import plan
from aquacalc.words import Reader

MADE, LATER, LAST = date(2027, 2, 20), date(2027, 3, 1), date(2027, 3, 20)
FIRST = date(2027, 3, 1)
BASIL, DILL = entry(), entry(subject="dill", day=date(2027, 5, 1), last=date(2027, 5, 1))


class Store:
    """A calendar into which files are imported."""

    def __init__(self) -> None:
        self.held: dict[str, icalendar.Event] = {}

    def take_in(self, path: Path) -> None:
        for event in icalendar.Calendar.from_ical(path.read_bytes()).events:
            before = self.held.get(event.uid)
            if before is None or rank(event) > rank(before):
                self.held[event.uid] = event

    def shown(self) -> set[tuple[object, ...]]:
        return {seen(one) for one in self.held.values() if one.status != "CANCELLED"}


def rank(event: icalendar.Event) -> tuple[int, object]:
    return event.sequence, event.DTSTAMP


def seen(event: icalendar.Event) -> tuple[object, ...]:
    rule = event["rrule"].to_ical() if "rrule" in event else b""
    return event.start, event.end, rule, str(event["summary"])


def planned(
    entries: Iterable[Entry],
    path: Path,
    made: date,
    last: Path | None = None,
    of: Garden | None = None,
    first: date = FIRST,
) -> Path:
    """The calendar of a plan, which follows another."""
    whose = of or garden()
    calendar.write(entries, whose, whose.reader, made, path)
    if last is not None:
        succession.follow(path, last, first, made, whose.reader)
    return path


def alone(entries: Iterable[Entry], folder: Path, of: Garden | None = None) -> set[tuple[object, ...]]:
    """What a plan shows that follows no other."""
    store = Store()
    store.take_in(planned(entries, folder / "alone.ics", LAST, of=of))
    return store.shown()


def found(path: Path) -> list[icalendar.Event]:
    return icalendar.Calendar.from_ical(path.read_bytes()).events


def test_two_plans_leave_one_in_the_calendar(tmp_path: Path):
    store = Store()
    tests = [FIRST + timedelta(weeks=week) for week in range(10)]
    one = planned([BASIL, DILL, *weekly(*tests)], tmp_path / "1.ics", MADE)
    then = [replace(BASIL, day=date(2027, 3, 13), last=date(2027, 3, 13)), *weekly(*tests[1:])]
    two = planned(then, tmp_path / "2.ics", LATER, one)
    for path in (one, two):
        store.take_in(path)
    assert store.shown() == alone(then, tmp_path)
    assert len(store.shown()) == 2


def test_what_fell_away_is_cancelled_with_a_raised_sequence_and_says_so(tmp_path: Path):
    stock = entry(key="stock", subject="Perch", place="Pool", day=date(2027, 4, 1), last=date(2027, 4, 1))
    one = planned([BASIL, stock], tmp_path / "1.ics", MADE)
    two = planned([BASIL], tmp_path / "2.ics", LATER, one)
    (before,) = [event for event in found(one) if "Perch" in str(event["summary"])]
    (gone,) = [event for event in found(two) if event.status == "CANCELLED"]
    assert gone.uid == before.uid
    assert gone.sequence > before.sequence
    assert gone["summary"] == f"No longer in the plan: {before['summary']}"
    assert before.walk("VALARM")
    assert not gone.walk("VALARM")


def test_a_plan_that_was_not_imported_leaves_nothing_behind(tmp_path: Path):
    store = Store()
    one = planned([BASIL, DILL], tmp_path / "1.ics", MADE)
    two = planned([BASIL], tmp_path / "2.ics", LATER, one)
    three = planned([BASIL], tmp_path / "3.ics", LAST, two)
    for path in (one, three):
        store.take_in(path)
    assert store.shown() == alone([BASIL], tmp_path)
    (gone,) = [event for event in found(three) if event.status == "CANCELLED"]
    assert str(gone["summary"]).count("No longer in the plan") == 1


def test_what_comes_back_into_the_plan_comes_back_into_the_calendar(tmp_path: Path):
    store = Store()
    one = planned([BASIL, DILL], tmp_path / "1.ics", MADE)
    two = planned([BASIL], tmp_path / "2.ics", MADE, one)
    three = planned([BASIL, DILL], tmp_path / "3.ics", MADE, two)
    for path in (one, two, three):
        store.take_in(path)
    assert store.shown() == alone([BASIL, DILL], tmp_path)


def test_two_plans_of_one_day_differ_by_their_sequence(tmp_path: Path):
    moved = replace(BASIL, day=date(2027, 3, 8), last=date(2027, 3, 8))
    one = planned([BASIL, DILL], tmp_path / "1.ics", MADE)
    two = planned([moved, DILL], tmp_path / "2.ics", MADE, one)
    numbers = [{str(event["summary"]): event.sequence for event in found(path)} for path in (one, two)]
    basil, dill = sorted(numbers[0])
    assert numbers[1][basil] > numbers[0][basil]
    assert numbers[1][dill] == numbers[0][dill]


def test_a_plan_made_later_counts_more_also_where_the_last_is_not_at_hand(tmp_path: Path):
    store = Store()
    moved = replace(BASIL, day=date(2027, 3, 8), last=date(2027, 3, 8))
    store.take_in(planned([BASIL], tmp_path / "1.ics", MADE))
    store.take_in(planned([moved], tmp_path / "2.ics", LATER))
    assert store.shown() == alone([moved], tmp_path)


def test_what_is_past_is_left_alone(tmp_path: Path):
    one = planned([BASIL, DILL], tmp_path / "1.ics", MADE)
    two = planned([], tmp_path / "2.ics", LATER, one, first=date(2027, 4, 1))
    assert [str(event["summary"]) for event in found(two)] == [
        "No longer in the plan: Sow 8 seeds of Dill for North bed."
    ]


def test_the_calendar_of_another_garden_is_not_followed(tmp_path: Path):
    one = planned([BASIL, DILL], tmp_path / "1.ics", MADE, of=replace(garden(), name="Another garden"))
    two = planned([BASIL], tmp_path / "2.ics", LATER, one)
    assert [event.status for event in found(two)] == [""]


def test_the_same_plan_again_is_the_same_file(tmp_path: Path):
    one = planned([BASIL, *weekly(FIRST, FIRST + timedelta(weeks=1))], tmp_path / "1.ics", MADE)
    two = planned([BASIL, *weekly(FIRST, FIRST + timedelta(weeks=1))], tmp_path / "2.ics", MADE, one)
    assert one.read_bytes() == two.read_bytes()


def test_the_first_plan_follows_nothing(tmp_path: Path):
    one = planned([BASIL], tmp_path / "1.ics", MADE)
    before = one.read_bytes()
    succession.follow(one, tmp_path / "none.ics", FIRST, MADE, Reader())
    assert one.read_bytes() == before


@pytest.mark.slow
@pytest.mark.parametrize("name", seasons.DEMOS)
def test_demo_gardens_planned_anew_leave_one_plan(tmp_path: Path, name: str):
    """The garden with fewer fish, one crop less and a later end follows the garden as it was."""
    of, run = seasons.garden(name), seasons.season(name)
    changed = replace(
        of,
        fish=(replace(of.fish[0], count=of.fish[0].count // 2), *of.fish[1:]),
        crops=of.crops[1:],
    )
    again = plan.of_garden(changed, 1)
    first = jobs.entries(plans.of_season(name))
    second = jobs.entries(replace(plans.of_season(name), garden=changed, season=again))
    store = Store()
    one = planned(first, tmp_path / "1.ics", MADE, of=of)
    store.take_in(one)
    held = set(store.held)
    store.take_in(planned(second, tmp_path / "2.ics", LATER, one, changed, run.first))
    assert store.shown() == alone(second, tmp_path, changed)
    assert len(held & {event.uid for event in found(tmp_path / "alone.ics")}) > 0.8 * len(store.shown())
