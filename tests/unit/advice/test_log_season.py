"""Readings against the season over the days of their log."""

from datetime import date, timedelta
from functools import cache

import pytest
from yard import yard

from aquacalc.advice import log_season
from aquacalc.logbook import today
from aquacalc.logbook.log import Beyond, Log, Reading, Row
from aquacalc.season.result import SeasonRun

GARDEN = yard()
FIRST = date(2027, 5, 3)


def log(parameter: str, value: float, days: int = 50, beyond: Beyond = "", hour: float | None = None) -> Log:
    unit, basis = ("mg_l", "N") if parameter in ("tan", "nitrite", "nitrate") else ("", "")
    rows = []
    for number in range(0, days, 7):
        day = FIRST + timedelta(days=number)
        one = Reading(day, parameter, value, unit, basis, beyond, hour=hour)
        rows.append(Row(day, (one,), number=number + 2))
    return Log("log.csv", tuple(rows))


@cache
def run() -> SeasonRun:
    return log_season.season(GARDEN, log("tan", 0.0), members=20)


def test_the_season_is_run_over_the_days_of_the_log():
    assert (run().first, run().days, run().members) == (FIRST, 50, 20)


def test_a_long_log_is_compared_for_its_last_year_and_a_short_one_for_four_weeks():
    long = log_season.as_it_was(GARDEN, log("tan", 0.0, days=800)).season
    assert (long.end - long.start).days == log_season.MOST_DAYS - 1
    short = log_season.as_it_was(GARDEN, log("tan", 0.0, days=3)).season
    assert (short.end - short.start).days == log_season.FEWEST_DAYS - 1


def test_fish_come_when_the_log_says_so():
    came = Row(FIRST, (Reading(FIRST, "stocked", 25.0, "", subject="spring"),))
    (batch,) = log_season.as_it_was(GARDEN, Log("log.csv", (came,))).fish
    assert (batch.stocked, batch.count) == (FIRST, 25)


@pytest.mark.parametrize(("value", "where"), [(1.0, "below"), (44.0, "above")])
def test_readings_beyond_the_band_lie_on_their_side(value: float, where: str):
    (one,) = log_season.compared(GARDEN, log("temperature", value), run())
    assert len(getattr(one, where)) == one.count == 8


def test_a_reading_on_the_middle_lies_in_the_band():
    middle = float(run().band(today.WATER["temperature"]).middle[0])
    (one,) = log_season.compared(GARDEN, log("temperature", middle, days=1), run())
    assert len(one.inside) == 1


def test_a_bound_is_in_the_band_where_the_water_may_lie_there():
    (one,) = log_season.compared(GARDEN, log("nitrate", 500.0, beyond="below"), run())
    assert len(one.inside) == one.count > 0
    (one,) = log_season.compared(GARDEN, log("nitrate", 500.0), run())
    assert len(one.above) == one.count


def test_a_ph_of_the_afternoon_is_not_compared_with_mornings():
    assert log_season.compared(GARDEN, log("ph", 7.0, hour=16.0), run()) == ()
    assert log_season.compared(GARDEN, log("ph", 7.0, hour=8.0), run())[0].count == 8


def test_days_with_other_fish_are_not_compared():
    told = log("tan", 0.5)
    day = FIRST + timedelta(days=1)
    gone = Row(day, (Reading(day, "count", 0.0, "", subject="spring"),))
    (one,) = log_season.compared(GARDEN, Log(told.name, (told.rows[0], gone, *told.rows[1:])), run())
    assert (one.count, len(one.apart)) == (1, 7)
