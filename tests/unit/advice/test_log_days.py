"""What happened when, the next test and what it is for, and the time of day."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc.advice import log as advice
from aquacalc.advice import log_days
from aquacalc.advice.log import Told
from aquacalc.garden.model import Garden, Kit
from aquacalc.logbook.log import Log
from aquacalc.logbook.messy import mend

GARDEN = yard()
HEAD = "date,water temperature (C),pH,ammonia (as N),nitrite (as N),nitrate (as N),alkalinity (mg/L CaCO3)"
Reader = Callable[..., Log]


@pytest.fixture
def log(tmp_path: Path) -> Reader:
    def made(*rows: str, head: str = HEAD) -> Log:
        path = tmp_path / "log.csv"
        path.write_text("\n".join((head, *rows)) + "\n", "utf-8")
        return mend.read(path, GARDEN).log

    return made


def test_what_happened_when(log: Reader):
    head = "date,spring stocked,spring dead,spring taken,ammonium chloride (g),top-up (L),note"
    told = log("2027-04-01,40,,,,,", "2027-04-20,,1,,3,5,cold", "2027-05-20,,,5,,300,", head=head)
    garden: Garden = replace(GARDEN, kits=(Kit("old", None), Kit("new", date(2027, 5, 1))))
    found = log_days.happened(garden, told)
    assert [(one.day.day, one.key, one.subject, one.amount) for one in found] == [
        (1, "stocked", "spring", 40.0),
        (20, "dead", "spring", 1.0),
        (20, "dose", "ammonium_chloride", 3.0),
        (20, "note", "cold", 0.0),
        (1, "kit", "new", 0.0),
        (20, "taken", "spring", 5.0),
        (20, "top_up", "", 300.0),
    ]


def told_by(log: Log, garden: Garden = GARDEN) -> Told:
    found = advice.told_by(garden, log)
    assert found is not None
    return found


def test_the_next_test_is_as_soon_as_the_newest_readings_ask(log: Reader):
    well, ill = log("2027-05-03,24,7.0,0,0,20,60"), log("2027-05-03,24,7.5,0,0,20,60")
    assert log_days.next_test(well, told_by(well)) == date(2027, 5, 10)
    assert log_days.next_test(ill, told_by(ill)) == date(2027, 5, 4)
    deadly = log("2027-05-03,24,7.0,0,8,20,60")
    assert log_days.next_test(deadly, told_by(deadly)) == date(2027, 5, 3)
    notes = log("2027-05-03,cold", head="date,note")
    assert log_days.next_test(notes, told_by(notes)) is None


def test_deaths_ask_for_a_test_on_the_next_day(log: Reader):
    head = "date,pH,spring dead"
    dying = log("2027-04-30,7,0", "2027-05-03,7,4", head=head)
    assert log_days.next_test(dying, told_by(dying)) == date(2027, 5, 4)
    assert set(log_days.BY_TOPIC["fish"]) <= set(
        log_days.what_to_test(dying, told_by(dying), date(2027, 5, 4))
    )


def test_what_to_test_follows_what_is_wrong_or_due(log: Reader):
    ill = log("2027-05-03,24,5.8,0,0,20,10")
    urgent = log_days.what_to_test(ill, told_by(ill), date(2027, 5, 4))
    assert urgent == ("tan", "ph", "alkalinity")
    well = log("2027-05-03,24,7.0,0,0,20,60")
    weekly = ("tan", "nitrite", "ph", "alkalinity", "temperature")
    assert log_days.what_to_test(well, told_by(well), date(2027, 5, 10)) == weekly
    # After two weeks nitrate is due as well.
    due = log_days.what_to_test(well, told_by(well), date(2027, 5, 17))
    assert due == (*weekly[:4], "nitrate", "temperature")


def test_a_morning_and_an_afternoon_are_told_apart(log: Reader):
    rows = ("2027-05-03,08:00,7.2", "2027-05-03,16:00,7.6", "2027-05-10,16:00,7.7")
    told = log(*rows, head="date,time,pH")
    pair = log_days.two_times(told, "ph")
    assert pair is not None
    assert [(one.hour, one.value) for one in pair] == [(8.0, 7.2), (16.0, 7.6)]
    assert log_days.two_times(told, "oxygen") is None
    assert not log_days.without_time(told)
    assert log_days.without_time(log("2027-05-03,7.2", head="date,pH"))
    assert not log_days.without_time(log("2027-05-03,20", head="date,nitrate (as N)"))


def test_readings_that_nobody_can_count_are_named(log: Reader):
    told = log("2027-05-03,0.5,0,20,4", head="date,ammonia,nitrite,nitrate (as N),KH")
    assert log_days.not_counted(told) == ("tan", "alkalinity")
    assert log_days.not_counted(log("2027-05-03,24,6.8,0,0,20,60")) == ()
