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
from aquacalc.advice.log import Told
from aquacalc.advice.reading import actions, given
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Kit, KitScale
from aquacalc.judge.levels import Level
from aquacalc.logbook.log import Log
from aquacalc.logbook.messy import mend
from aquacalc.sentences import log as sentences

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


def told_by(log: Log, day: date | None = None, garden: Garden = GARDEN) -> Told:
    found = advice.told_by(garden, log, day)
    assert found is not None
    return found


def findings(log: Log, day: date | None = None) -> list[Finding]:
    found = told_by(log, day)
    return [*found.findings, *found.past]


def keys(log: Log, day: date | None = None) -> list[str]:
    return [one.key for one in findings(log, day)]


def levels(log: Log, day: date | None = None, garden: Garden = GARDEN) -> dict[str, Level]:
    """The levels of what the newest readings say, but for what is fine."""
    found = told_by(log, day, garden).answer
    assert found is not None
    return {one.parameter: one.level for one in found.judgement.judged if one.level != "fine"}


def test_an_empty_log_says_nothing(log: Reader):
    assert advice.told_by(GARDEN, log()) is None
    assert advice.told_by(GARDEN, log("2027-05-03,,7,,,,"), date(2027, 4, 1)) is None


def test_water_that_is_well_is_calm_and_what_was_not_read_is_named(log: Reader):
    found = told_by(log("2027-05-03,24,7.0,0,0,20,60"))
    assert found.calm
    assert found.level == "fine"
    assert [(one.parameter, one.why) for one in found.unjudged] == [
        ("oxygen", "not read"),
        ("chlorine", "not read"),
    ]


def test_every_column_that_is_read_is_judged(log: Reader):
    head = "date,water temperature (C),ammonia (as N),nitrate (as N),chlorine,oxygen,added salt (g/L),pH"
    head = f"{head},alkalinity (mg/L CaCO3)"
    bad = log("2027-05-03,38,8,600,1.5,2,2,5.2,5", head=head)
    found = levels(bad)
    assert set(found) == {
        *("temperature", "tan", "nitrate", "chlorine", "oxygen", "added_salt", "ph"),
        *("alkalinity", "carbon_dioxide"),
    }
    assert {found[one] for one in ("temperature", "nitrate", "chlorine", "oxygen")} == {"emergency"}
    assert told_by(bad).level == "emergency"
    assert not told_by(bad).calm


def test_ammonia_needs_neither_ph_nor_temperature_to_be_judged(log: Reader):
    found = levels(log("2027-05-03,8", head="date,ammonia (as N)"))
    assert found["unionised_ammonia"] == "emergency"


def test_what_has_no_basis_is_judged_at_its_severest_and_never_calm(log: Reader):
    assert levels(log("2027-05-03,8", head="date,ammonia"))["tan"] in ("act today", "emergency")
    unsure = told_by(log("2027-05-03,60", head="date,nitrate"))
    assert unsure.level == "not known"
    assert not unsure.calm


def test_what_was_read_and_has_no_lines_is_named(log: Reader):
    found = told_by(log("2027-05-03,6.8,2", head="date,pH,iron"))
    assert found.without_lines == ("iron",)
    assert not found.calm


def test_the_same_water_is_as_urgent_for_fish_that_only_come(log: Reader):
    row = "2027-02-03,24,8.2,4,3,20,60"
    found = told_by(log(row))
    assert found.water is not None
    assert (found.water.living, found.water.comes) == ("coming", date(2027, 4, 1))
    assert levels(log(row)) == levels(log(row.replace("02-03", "05-03")))


@pytest.mark.parametrize("text", [">7.6", "7.6"])
def test_a_ph_at_the_top_of_the_kit_may_be_any_higher_one(log: Reader, text: str):
    kit = Kit("short", None, (KitScale("ph", steps=(6.0, 6.4, 6.8, 7.2, 7.6)),))
    garden = replace(GARDEN, kits=(kit,))
    found = levels(log(f"2027-05-03,24,{text},0.9,0,20,60"), garden=garden)
    assert found["ph"] == "watch"
    judged = told_by(log(f"2027-05-03,24,{text},0.9,0,20,60"), garden=garden).answer
    assert judged is not None
    acid, unionised = judged.judgement.of("ph"), judged.judgement.of("unionised_ammonia")
    assert acid is not None
    assert unionised is not None
    assert acid.or_worse
    assert unionised.level_high == "emergency"


def test_a_bound_above_the_worst_line_is_no_calm(log: Reader):
    assert levels(log("2027-05-03,24,>9.5,0,0,20,60"))["ph"] == "emergency"


def test_a_reading_is_answered_as_if_it_had_been_typed(log: Reader):
    typed = ["temp=26 C", "ph=8.2", "tan=4 N", "nitrite=0.4 N", "nitrate=20 N", "kh=15 mg/L CaCO3"]
    found = told_by(log("2027-05-03,26,8.2,4,0.4,20,15")).answer
    by_reading = actions.answer(given.read(typed, GARDEN))
    assert found is not None
    assert found.judgement.judged == by_reading.judgement.judged
    assert found.actions == by_reading.actions


def test_a_filter_that_is_started_without_fish_lives_on_ammonia(log: Reader):
    head = f"{HEAD},ammonium chloride (g)"
    found = told_by(log("2027-03-03,24,7.1,4,3,20,60,8", head=head))
    assert found.water is not None
    assert found.water.food == ("tan", "nitrite")
    assert found.level == "fine"
    assert not found.calm


def test_old_readings_say_nothing_about_today(log: Reader):
    sour = log("2027-05-03,24,5.4,,,,5")
    assert told_by(sour, date(2027, 7, 1)).answer is None
    assert keys(sour, date(2027, 7, 1)) == ["finding-alkalinity-log-past"]  # which is why the pH was low


def test_alkalinity_that_falls_reaches_its_line_between_two_days(log: Reader):
    rows = [f"2027-05-{day:02d},24,6.8,0,0,20,{120 - 3 * (day - 1)}" for day in range(1, 30, 7)]
    one = findings(log(*rows))[0]
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
    told = keys(log(*rows, head="date,alkalinity (mg/L CaCO3),feed (g)"))
    assert ("finding-alkalinity-log-faster" in told) is found


def test_ph_and_alkalinity_that_no_water_has_together(log: Reader):
    assert "finding-readings-log-disagree" in keys(log("2027-05-03,24,6.0,0,0,20,180"))
    assert "finding-readings-log-disagree" not in keys(log("2027-05-03,24,6.8,0,0,20,60"))


# --- fish -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("dead", "level"), [((0, 0), None), ((1, 0), "act today"), ((1, 1), "emergency"), ((0, 4), "emergency")]
)
def test_deaths_of_a_week(log: Reader, dead: tuple[int, int], level: str | None):
    rows = [f"2027-05-{day:02d},{count}" for day, count in zip((3, 6), dead, strict=True)]
    found = findings(log("2027-04-01,0", *rows, head="date,spring dead"))
    assert [one.level for one in found if one.key == "finding-fish-log-deaths"] == ([level] if level else [])


def test_deaths_of_an_earlier_month_are_no_alarm(log: Reader):
    dead = log("2027-05-03,4", head="date,spring dead")
    (found,) = findings(dead, date(2027, 6, 3))
    assert (found.key, found.level) == ("finding-fish-log-deaths-past", "watch")
    assert findings(dead, date(2028, 6, 3)) == []


@pytest.mark.parametrize(
    ("counted", "key"), [(36, []), (30, ["finding-fish-log-fewer"]), (39, ["finding-fish-log-more"])]
)
def test_fish_counted_against_stocked_dead_and_taken(log: Reader, counted: int, key: list[str]):
    rows = ("2027-04-01,40,,,", "2027-04-20,,1,3,", f"2027-05-20,,,,{counted}")
    head = "date,spring stocked,spring dead,spring taken,spring counted"
    assert keys(log(*rows, head=head)) == key


# --- what is over -----------------------------------------------------------------------------------------


def test_a_trouble_that_is_over_is_told_with_its_days(log: Reader):
    rows = ("2027-05-01,24,6.8,0,0,20,60", "2027-05-08,24,6.8,4,0,20,60", "2027-05-10,24,6.8,3.5,0,20,60")
    (one,) = findings(log(*rows, "2027-05-17,24,6.8,0,0,20,60"))
    assert (one.key, one.level) == ("finding-ammonia-log-past", "watch")
    assert (one.first, one.last) == (date(2027, 5, 8), date(2027, 5, 10))
    spoken = words.finding(one, words.Reader()).title.replace("\u00a0", " ")
    assert spoken == "Ammonia was high from 8 May to 10 May 2027: 4 mg/L as N"
    # While it lasts it is no past.
    assert keys(log(*rows)) == []
    assert "tan" in levels(log(*rows))


@pytest.mark.parametrize(
    ("column", "bad", "well", "key"),
    [
        ("chlorine", "0.5", "0", "finding-chlorine-log-past"),
        ("nitrate (as N)", "600", "20", "finding-nitrate-log-past"),
        ("water temperature (C)", "38", "26", "finding-temperature-log-hot-past"),
        ("water temperature (C)", "1", "26", "finding-temperature-log-cold-past"),
        ("oxygen", "2", "8", "finding-oxygen-log-past"),
        ("pH", "9.2", "7", "finding-ph-log-high-past"),
        ("added salt (g/L)", "2", "0", "finding-salt-log-past"),
    ],
)
def test_every_row_of_the_past_is_judged(log: Reader, column: str, bad: str, well: str, key: str):
    rows = (f"2027-05-03,{bad}", f"2027-05-10,{well}")
    expected = [] if column == "chlorine" else [key]  # a test that finds none proves nothing
    assert keys(log(*rows, head=f"date,{column}")) == expected
    assert keys(log(rows[0], head=f"date,{column}"), date(2027, 7, 3)) == [key]


def test_carbon_dioxide_of_the_past_is_judged(log: Reader):
    rows = ("2027-05-03,24,6.0,0,0,20,120", "2027-05-17,24,7.0,0,0,20,60")
    assert "finding-dioxide-log-past" in keys(log(*rows))


def test_what_is_now_comes_before_what_is_over(log: Reader):
    rows = ("2027-05-08,24,6.8,4,0,20,60", "2027-05-17,24,6.8,0,0,20,60", "2027-05-24,24,6.1,0,0,20,60")
    assert levels(log(*rows))["ph"] == "watch"
    assert keys(log(*rows)) == ["finding-ammonia-log-past"]


def test_feed_tells_of_fish_that_the_file_does_not_plan_yet(log: Reader):
    head = f"{HEAD},feed (g)"
    fed = log("2026-09-25,24,6.8,0,0,20,60,50", "2026-10-01,24,6.8,4,0,20,60,0", head=head)
    found = told_by(fed).water
    assert found is not None
    assert (found.living, found.comes) == ("there", None)


def test_a_bound_on_the_harmless_side_may_hide_trouble(log: Reader):
    found = told_by(log("2027-05-03,24,6.8,<4,<1,20,>15"))
    assert found.level == "not known"
    assert not found.calm


def test_dead_fish_in_a_note_are_not_lost(log: Reader):
    assert keys(log("2027-05-03,7.0,two catfish dead", head="date,pH,note")) == ["finding-fish-log-noted"]
    counted = log("2027-05-03,7.0,1,one dead", head="date,pH,spring dead,note")
    assert "finding-fish-log-noted" not in keys(counted)


@pytest.mark.parametrize(
    ("name", "day", "parameter", "level"),
    [
        ("yard", date(2026, 10, 13), "tan", "act today"),
        ("yard", date(2026, 10, 16), "nitrite", "act today"),
        ("greenhouse", date(2027, 4, 2), "tan", "act today"),
        ("greenhouse", date(2027, 4, 3), "nitrite", "emergency"),
        ("greenhouse", date(2027, 4, 3), "oxygen", "watch"),
        ("classroom", date(2027, 3, 15), "alkalinity", "emergency"),
        ("classroom", date(2027, 3, 15), "ph", "act today"),
        ("southern", date(2027, 9, 25), "alkalinity", "emergency"),
    ],
)
def test_the_trouble_of_a_demo_log_is_found_on_its_day(name: str, day: date, parameter: str, level: str):
    file = GardenFile.open(f"demo:{name}")
    found = mend.beside(file.path, file.garden)
    assert found is not None
    assert levels(found.log, day, file.garden).get(parameter) == level


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
    told = told_by(found.log, None, file.garden)
    assert wanted <= {one.key for one in (*told.findings, *told.past)[: advice.MOST_FINDINGS]}


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_findings_of_every_day_of_the_demo_logs_can_be_said(name: str, units: str):
    file = GardenFile.open(f"demo:{name}")
    mended = mend.beside(file.path, file.garden)
    assert mended is not None
    reader = words.Reader(units=units)  # type: ignore[arg-type]
    for row in mended.log.rows:
        told = told_by(mended.log, row.day, file.garden)
        assert sentences.status(told, False, reader)
        assert all([*sentences.whose(told, reader), *sentences.not_judged(told, reader)])
        for one in (*told.findings, *told.past):
            assert all(vars(words.finding(one, reader)).values())
