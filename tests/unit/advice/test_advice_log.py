"""Findings of a log: levels, trends, readings that cannot go together, lost fish, the next test."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.advice import log as advice
from aquacalc.advice.finding import Finding
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Kit
from aquacalc.logbook import messy
from aquacalc.logbook.log import Log

GARDEN = yard()
HEAD = "date,water temperature (C),pH,ammonia (as N),nitrite (as N),nitrate (as N),alkalinity (mg/L CaCO3)"

Reader = Callable[..., Log]


@pytest.fixture
def log(tmp_path: Path) -> Reader:
    def made(*rows: str, head: str = HEAD) -> Log:
        path = tmp_path / "log.csv"
        path.write_text("\n".join((head, *rows)) + "\n", "utf-8")
        found = messy.read(path, GARDEN)
        assert not found.doubts
        return found.log

    return made


def keys(found: tuple[Finding, ...]) -> list[str]:
    return [one.key for one in found]


def test_an_empty_log_has_no_findings(log: Reader):
    assert advice.of_log(GARDEN, log()) == ()
    assert advice.of_log(GARDEN, log("2027-05-03,,7,,,,"), date(2027, 4, 1)) == ()


def test_water_that_is_well_has_no_findings(log: Reader):
    assert advice.of_log(GARDEN, log("2027-05-03,24,6.8,0,0,20,60")) == ()


def test_the_most_urgent_comes_first(log: Reader):
    found = advice.of_log(GARDEN, log("2027-05-03,26,8.2,4,0.4,20,15"))
    assert keys(found)[0] == "finding-ammonia-log-now"
    assert found[0].level == "emergency"
    assert {"finding-nitrite-log-now", "finding-ph-log-high", "finding-alkalinity-log-low"} <= set(
        keys(found)
    )


def test_a_reading_at_the_end_of_its_scale_is_said_as_a_least_value(log: Reader):
    (found,) = (
        one
        for one in advice.of_log(GARDEN, log("2027-05-03,24,7.0,>6,0,20,60"))
        if one.key == "finding-ammonia-log-now"
    )
    assert "6 mg/L as N or more" in words.finding(found, words.Reader()).title.replace("\u00a0", " ")


def test_before_the_fish_come_ammonia_starts_the_filter(log: Reader):
    assert advice.of_log(GARDEN, log("2027-03-03,24,7.4,4,3,20,60")) == ()


def test_old_readings_say_nothing_about_today(log: Reader):
    assert advice.of_log(GARDEN, log("2027-05-03,24,5.4,,,,5"), date(2027, 7, 1)) == ()


def test_alkalinity_that_falls_reaches_its_line_between_two_days(log: Reader):
    rows = [f"2027-05-{day:02d},24,6.8,0,0,20,{120 - 3 * (day - 1)}" for day in range(1, 30, 7)]
    found = advice.of_log(GARDEN, log(*rows))
    (one,) = found
    assert one.key == "finding-alkalinity-log-reaches"
    assert one.level == "act today"  # within a week, perhaps
    # 36 on 29 May, 3 a day: 10 after about nine days.
    assert one.first is not None
    assert one.last is not None
    assert date(2027, 5, 30) <= one.first <= date(2027, 6, 7) <= one.last
    assert "10 mg/L CaCO3" in words.finding(one, words.Reader()).title.replace("\u00a0", " ")


@pytest.mark.parametrize(("feed", "found"), [(5, True), (120, False)])
def test_alkalinity_that_falls_faster_than_the_feed_explains(log: Reader, feed: int, found: bool):
    rows = [f"2027-05-{day:02d},{140 - day},{feed}" for day in range(1, 30, 7)]
    told = advice.of_log(GARDEN, log(*rows, head="date,alkalinity (mg/L CaCO3),feed (g)"))
    assert ("finding-alkalinity-log-faster" in keys(told)) is found


def test_ph_and_alkalinity_that_no_water_has_together(log: Reader):
    found = advice.of_log(GARDEN, log("2027-05-03,24,6.0,0,0,20,180"))
    assert "finding-readings-log-disagree" in keys(found)
    assert "finding-readings-log-disagree" not in keys(
        advice.of_log(GARDEN, log("2027-05-03,24,6.8,0,0,20,60"))
    )


# --- fish -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("dead", "level"), [((0, 0), None), ((1, 0), "act today"), ((1, 1), "emergency"), ((0, 4), "emergency")]
)
def test_deaths_of_a_week(log: Reader, dead: tuple[int, int], level: str | None):
    rows = [f"2027-05-{day:02d},{count}" for day, count in zip((3, 6), dead, strict=True)]
    found = advice.of_log(GARDEN, log("2027-04-01,0", *rows, head="date,spring dead"))
    assert [one.level for one in found if one.key == "finding-fish-log-deaths"] == ([level] if level else [])


def test_deaths_of_an_earlier_month_are_no_alarm(log: Reader):
    found = advice.of_log(GARDEN, log("2027-05-03,4", head="date,spring dead"), date(2027, 6, 3))
    assert found == ()


@pytest.mark.parametrize(
    ("counted", "key"), [(36, []), (30, ["finding-fish-log-fewer"]), (39, ["finding-fish-log-more"])]
)
def test_fish_counted_against_stocked_dead_and_taken(log: Reader, counted: int, key: list[str]):
    rows = ("2027-04-01,40,,,", "2027-04-20,,1,3,", f"2027-05-20,,,,{counted}")
    head = "date,spring stocked,spring dead,spring taken,spring counted"
    assert keys(advice.of_log(GARDEN, log(*rows, head=head))) == key


# --- what happened, and the next test ---------------------------------------------------------------------


def test_what_happened_when(log: Reader):
    told = log("2027-04-01,40,", "2027-05-20,,5", head="date,spring stocked,spring taken")
    garden: Garden = replace(GARDEN, kits=(Kit("old", None), Kit("new", date(2027, 5, 1))))
    found = advice.happened(garden, told)
    assert [(one.key, one.subject, one.count) for one in found] == [
        ("stocked", "spring", 40),
        ("kit", "new", 0),
        ("taken", "spring", 5),
    ]


def test_the_next_test_is_in_a_week_or_tomorrow(log: Reader):
    well, ill = log("2027-05-03,24,6.8,0,0,20,60"), log("2027-05-03,24,5.8,0,0,20,60")
    assert advice.next_test(well, advice.of_log(GARDEN, well)) == date(2027, 5, 10)
    assert advice.next_test(ill, advice.of_log(GARDEN, ill)) == date(2027, 5, 4)
    assert advice.next_test(log(), ()) is None


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_findings_of_every_day_of_the_demo_logs_can_be_said(name: str, units: str):
    file = GardenFile.open(f"demo:{name}")
    mended = messy.beside(file.path, file.garden)
    assert mended is not None
    reader = words.Reader(units=units)  # type: ignore[arg-type]
    for row in mended.log.rows:
        for one in advice.of_log(file.garden, mended.log, row.day):
            assert all(vars(words.finding(one, reader)).values())
