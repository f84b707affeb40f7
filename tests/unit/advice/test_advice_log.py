"""Findings of a log: levels, trends, readings that cannot go together, lost fish, the next test."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.advice import log as advice
from aquacalc.advice.finding import Finding
from aquacalc.garden.file import GardenFile
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
        found = mend.read(path, GARDEN)
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
    found = advice.of_log(GARDEN, log("2027-05-03,24,5.4,,,,5"), date(2027, 7, 1))
    assert keys(found) == ["finding-alkalinity-log-past"]  # which is why the pH was low


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
    (found,) = advice.of_log(GARDEN, log("2027-05-03,4", head="date,spring dead"), date(2027, 6, 3))
    assert (found.key, found.level) == ("finding-fish-log-deaths-past", "watch")
    assert advice.of_log(GARDEN, log("2027-05-03,4", head="date,spring dead"), date(2028, 6, 3)) == ()


@pytest.mark.parametrize(
    ("counted", "key"), [(36, []), (30, ["finding-fish-log-fewer"]), (39, ["finding-fish-log-more"])]
)
def test_fish_counted_against_stocked_dead_and_taken(log: Reader, counted: int, key: list[str]):
    rows = ("2027-04-01,40,,,", "2027-04-20,,1,3,", f"2027-05-20,,,,{counted}")
    head = "date,spring stocked,spring dead,spring taken,spring counted"
    assert keys(advice.of_log(GARDEN, log(*rows, head=head))) == key


# --- what is over -----------------------------------------------------------------------------------------


def test_a_trouble_that_is_over_is_told_with_its_days(log: Reader):
    rows = ("2027-05-01,24,6.8,0,0,20,60", "2027-05-08,24,6.8,4,0,20,60", "2027-05-10,24,6.8,3.5,0,20,60")
    found = advice.of_log(GARDEN, log(*rows, "2027-05-17,24,6.8,0,0,20,60"))
    (one,) = found
    assert (one.key, one.level) == ("finding-ammonia-log-past", "watch")
    assert (one.first, one.last) == (date(2027, 5, 8), date(2027, 5, 10))
    spoken = words.finding(one, words.Reader()).title.replace("\u00a0", " ")
    assert spoken == "Ammonia was high from 8 May to 10 May 2027: 4 mg/L as N"
    # While it lasts it is no past.
    assert keys(advice.of_log(GARDEN, log(*rows))) == ["finding-ammonia-log-now"]


def test_what_is_now_comes_before_what_is_over(log: Reader):
    rows = ("2027-05-08,24,6.8,4,0,20,60", "2027-05-17,24,6.8,0,0,20,60", "2027-05-24,24,6.3,0,0,20,60")
    assert keys(advice.of_log(GARDEN, log(*rows))) == ["finding-ph-log-low", "finding-ammonia-log-past"]


def test_feed_tells_of_fish_that_the_file_does_not_plan_yet(log: Reader):
    head = f"{HEAD},feed (g)"
    assert advice.of_log(GARDEN, log("2026-10-01,24,6.8,4,0,20,60,", head=head)) == ()
    fed = log("2026-09-25,24,6.8,0,0,20,60,50", "2026-10-01,24,6.8,4,0,20,60,0", head=head)
    assert keys(advice.of_log(GARDEN, fed)) == ["finding-ammonia-log-now"]


def test_a_bound_on_the_harmless_side_is_no_trouble(log: Reader):
    assert advice.of_log(GARDEN, log("2027-05-03,24,6.8,<4,<1,20,>15")) == ()


def test_dead_fish_in_a_note_are_not_lost(log: Reader):
    found = advice.of_log(GARDEN, log("2027-05-03,7.0,two catfish dead", head="date,pH,note"))
    assert keys(found) == ["finding-fish-log-noted"]
    counted = log("2027-05-03,7.0,1,one dead", head="date,pH,spring dead,note")
    assert "finding-fish-log-noted" not in keys(advice.of_log(GARDEN, counted))


@pytest.mark.parametrize(
    ("name", "day", "key", "level"),
    [
        ("yard", date(2026, 10, 13), "finding-ammonia-log-now", "act today"),
        ("yard", date(2026, 10, 16), "finding-nitrite-log-now", "act today"),
        ("yard", date(2026, 10, 11), "finding-fish-log-noted", "watch"),
        ("greenhouse", date(2027, 4, 2), "finding-ammonia-log-now", "act today"),
        ("greenhouse", date(2027, 4, 3), "finding-nitrite-log-now", "emergency"),
        ("greenhouse", date(2027, 4, 3), "finding-oxygen-log-now", "watch"),
        ("classroom", date(2027, 3, 15), "finding-alkalinity-log-low", "emergency"),
        ("classroom", date(2027, 3, 15), "finding-ph-log-low", "act today"),
        ("southern", date(2027, 9, 25), "finding-alkalinity-log-low", "emergency"),
    ],
)
def test_the_trouble_of_a_demo_log_is_found_on_its_day(name: str, day: date, key: str, level: str):
    file = GardenFile.open(f"demo:{name}")
    found = mend.beside(file.path, file.garden)
    assert found is not None
    told = {one.key: one.level for one in advice.of_log(file.garden, found.log, day)}
    assert told.get(key) == level


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("yard", {"finding-ammonia-log-past", "finding-nitrite-log-past", "finding-fish-log-noted"}),
        ("greenhouse", {"finding-ammonia-log-past", "finding-nitrite-log-past"}),
        ("classroom", {"finding-alkalinity-log-past"}),
        ("southern", {"finding-alkalinity-log-past"}),
    ],
)
def test_the_trouble_of_a_demo_log_is_told_at_its_end(name: str, wanted: set[str]):
    file = GardenFile.open(f"demo:{name}")
    found = mend.beside(file.path, file.garden)
    assert found is not None
    assert wanted <= set(keys(advice.of_log(file.garden, found.log)[: advice.MOST_FINDINGS]))


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_findings_of_every_day_of_the_demo_logs_can_be_said(name: str, units: str):
    file = GardenFile.open(f"demo:{name}")
    mended = mend.beside(file.path, file.garden)
    assert mended is not None
    reader = words.Reader(units=units)  # type: ignore[arg-type]
    for row in mended.log.rows:
        for one in advice.of_log(file.garden, mended.log, row.day):
            assert all(vars(words.finding(one, reader)).values())
