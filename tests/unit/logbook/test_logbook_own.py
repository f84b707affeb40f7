"""Values in the unit in which the log has them; a column of times in a well-formed log."""

from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.logbook import own, read
from aquacalc.logbook.log import Reading

DAY = date(2027, 5, 3)


@pytest.mark.parametrize(
    ("unit", "basis", "low", "high", "said"),
    [
        ("dkh", "", 17.848, None, "1 dKH"),
        ("dkh", "", 17.848, 71.392, "1\u20134 dKH"),
        ("mg_l", "NO3", 1.0, None, "4.4 mg/L as NO3"),
        ("dkh", "", 0.0, 0.68, "0 dKH"),
        ("mg_l", "NO3", 100.0, None, "440 mg/L as NO3"),
        ("mg_l", "N", 1.0, None, own.NONE),
        ("mg_l_caco3", "", 60.0, None, own.NONE),
        ("", "", 7.0, None, own.NONE),
    ],
)
def test_values_as_the_log_has_them(unit: str, basis: str, low: float, high: float | None, said: str):
    reading = Reading(DAY, "alkalinity", low, "", own_unit=unit, own_basis=basis)
    assert own.text(reading, low, high).replace(words.NO_BREAK_SPACE, " ") == said


def test_without_a_reading_there_is_no_unit_of_its_own():
    assert own.text(None, 1.0) == own.NONE


def test_the_own_unit_is_no_part_of_what_a_reading_says():
    assert Reading(DAY, "tan", 1.0, "mg_l", own_unit="mg_l") == Reading(DAY, "tan", 1.0, "mg_l")


def test_a_well_formed_log_may_have_times(tmp_path: Path):
    path = tmp_path / "log.csv"
    path.write_text("date,time,pH\n2027-05-03,08:10,7.0\n2027-05-03,16:00,7.3\n", "utf-8")
    log = read.read(path, yard())
    assert [(row.time, row.readings[0].hour) for row in log.rows] == [
        ("08:10", pytest.approx(8.0 + 1.0 / 6.0)),
        ("16:00", 16.0),
    ]


@pytest.mark.parametrize(
    ("rows", "key"),
    [
        ("2027-05-03,8am,7.0\n", "problem-log-time"),
        ("2027-05-03,08:00,7.0\n2027-05-03,08:00,7.3\n", "problem-log-day-twice"),
        ("2027-05-03,,7.0\n2027-05-03,,7.3\n", "problem-log-day-twice"),
    ],
)
def test_times_that_are_none_or_come_twice(tmp_path: Path, rows: str, key: str):
    path = tmp_path / "log.csv"
    path.write_text(f"date,time,pH\n{rows}", "utf-8")
    with pytest.raises(InputError) as caught:
        read.read(path, yard())
    assert [one.key for one in caught.value.problems] == [key]


def test_the_ends_of_a_range_are_looked_at(tmp_path: Path):
    path = tmp_path / "log.csv"
    for cell in ("7-5", "7-70"):
        path.write_text(f"date,pH\n2027-05-03,{cell}\n", "utf-8")
        with pytest.raises(InputError) as caught:
            read.read(path, yard())
        assert [one.key for one in caught.value.problems] == ["problem-range"]
