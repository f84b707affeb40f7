"""Trends respect what a kit can tell, and a line is reached between two days."""

from dataclasses import replace
from datetime import date, timedelta
from math import inf

import numpy as np
import pytest
from yard import yard

from aquacalc.garden.model import Kit, KitScale
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.logbook.trend import HORIZON_DAYS, interval, jumped, lines, of_log, reaches, trend

FIRST = date(2027, 4, 5)
STEPS = (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)


def weekly(count: int) -> list[date]:
    return [FIRST + timedelta(days=7 * week) for week in range(count)]


def log(parameter: str, values: list[float], beyond: str = "") -> Log:
    rows = [
        Row(day, (Reading(day, parameter, value, "", "", beyond, f"{value:g}"),))  # type: ignore[arg-type]
        for day, value in zip(weekly(len(values)), values, strict=True)
    ]
    return Log("log.csv", tuple(rows))


def test_exact_readings_on_a_line_give_its_slope():
    days = weekly(6)
    values = [100.0 - 5.0 * week for week in range(6)]
    found = trend(days, values, values)
    assert found is not None
    assert found.slope == pytest.approx(-5.0)
    assert (found.slope_low, found.slope_high) == (pytest.approx(-5.0), pytest.approx(-5.0))
    assert found.now == pytest.approx(75.0)
    assert found.falling
    assert not found.rising


def test_one_wild_reading_does_not_turn_the_line():
    values = [100.0, 95.0, 90.0, 300.0, 80.0, 75.0, 70.0, 65.0]
    found = trend(weekly(8), values, values)
    assert found is not None
    assert found.falling
    assert found.slope == pytest.approx(-5.0, abs=0.5)


def test_wider_readings_give_a_wider_band():
    values = np.array([100.0 - 5.0 * week for week in range(6)])
    narrow, wide = (trend(weekly(6), list(values - half), list(values + half)) for half in (1.0, 10.0))
    assert narrow is not None
    assert wide is not None
    assert wide.slope_high - wide.slope_low > 2.0 * (narrow.slope_high - narrow.slope_low)


def test_too_few_or_too_near_readings_have_no_trend():
    assert trend(weekly(3), [1.0] * 3, [1.0] * 3) is None
    days = [FIRST + timedelta(days=day) for day in range(6)]
    assert trend(days, [1.0] * 6, [1.0] * 6) is None


def test_all_rows_of_one_draw_on_the_same_day_are_level():
    slope, now = lines(np.zeros(4), np.ones(4), np.ones(4), draws=3)
    assert list(slope) == [0.0] * 3
    assert list(now) == [1.0] * 3


def test_the_line_is_reached_where_a_straight_line_would_reach_it():
    values = [60.0 - 5.0 * week for week in range(6)]
    found = trend(weekly(6), values, values)
    assert found is not None
    # 35 on the last day, 5 a week: 20 after three weeks.
    assert reaches(found, 20.0) == (found.last + timedelta(days=21), found.last + timedelta(days=21))
    assert reaches(found, 80.0) is None  # it goes the other way
    assert reaches(found, -60.0) is None  # beyond six weeks nobody knows


def test_the_days_between_which_a_line_is_reached_widen_with_the_kit():
    values = np.array([60.0 - 5.0 * week for week in range(6)])
    found = trend(weekly(6), list(values - 3.0), list(values + 3.0))
    assert found is not None
    reached = reaches(found, 20.0)
    assert reached is not None
    early, late = reached
    assert late is not None
    assert early < found.last + timedelta(days=21) < late


def test_a_trend_ends_where_nobody_knows_any_more():
    """Six weeks ahead a line is still told, a day later not; a late end beyond twice that stays open."""
    values = np.array([60.0 - 5.0 * week for week in range(6)])
    sure = trend(weekly(6), list(values), list(values))
    assert sure is not None
    day = sure.last + timedelta(days=HORIZON_DAYS)
    assert reaches(sure, 35.0 - 5.0 * HORIZON_DAYS / 7) == (day, day)
    assert reaches(sure, 35.0 - 5.0 * (HORIZON_DAYS + 1) / 7) is None
    wide = trend(weekly(6), list(values - 15.0), list(values + 15.0))
    assert wide is not None
    early, late = reaches(wide, 15.0) or (None, date.max)
    assert early is not None
    assert early <= wide.last + timedelta(days=HORIZON_DAYS)
    assert late is None


def test_readings_that_only_bound_the_water_are_told():
    found = trend(weekly(5), [-inf] * 5, [6.0] * 5)
    assert found is not None
    assert found.bounded
    assert not found.falling
    assert not found.rising


# --- kits -------------------------------------------------------------------------------------------------


def card(*kits: Kit):
    return replace(yard(), kits=kits)


def test_a_step_of_a_card_stands_for_half_of_the_way_to_its_neighbours():
    garden = card(Kit("drops", None, (KitScale("alkalinity", "mg_l_caco3", STEPS),)))
    found = interval(Reading(FIRST, "alkalinity", 40.0, "mg_l_caco3"), garden)
    assert (found.low, found.high) == (30.0, 50.0)
    zero = interval(Reading(FIRST, "alkalinity", 0.0, "mg_l_caco3"), garden)
    assert (zero.low, zero.high) == (0.0, 10.0)


def test_without_a_kit_the_usual_error_of_the_test_stands():
    found = interval(Reading(FIRST, "ph", 7.0, ""), card())
    assert (found.low, found.high) == (6.8, 7.2)
    above = interval(Reading(FIRST, "tan", 6.0, "mg_l", "N", "above"), card())
    assert (above.low, above.high) == (6.0, inf)


def test_a_kit_step_alone_is_no_trend():
    """Two neighbouring steps of a coarse card, up and down, are nothing that falls or rises."""
    garden = card(Kit("drops", None, (KitScale("alkalinity", "mg_l_caco3", STEPS),)))
    found = of_log(log("alkalinity", [60, 40, 60, 40, 60, 40]), garden, "alkalinity", date(2027, 6, 1))
    assert found is not None
    assert not found.falling
    assert not found.rising


def test_readings_of_an_earlier_kit_are_left_out():
    """Level by each kit, but stepping at the change: no trend."""
    old = Kit("old", None, (KitScale("alkalinity", "mg_l_caco3"),))
    new = Kit("new", FIRST + timedelta(days=28), (KitScale("alkalinity", "mg_l_caco3"),))
    told = log("alkalinity", [120.0] * 4 + [60.0] * 4)
    both = of_log(told, card(old, new), "alkalinity", date(2027, 6, 1))
    assert both is not None
    assert both.count == 4
    assert both.slope == pytest.approx(0.0, abs=3.0)
    one = of_log(told, card(old), "alkalinity", date(2027, 6, 1))
    assert one is not None
    assert one.falling


def test_a_value_is_never_below_nothing():
    found = of_log(log("nitrate", [8.0, 4.0, 1.0, 0.0, 0.0]), card(), "nitrate", date(2027, 6, 1))
    assert found is not None
    assert found.now_low >= 0.0


# --- jumps and times of day -------------------------------------------------------------------------------


def test_readings_before_a_dose_are_left_out():
    """Falling on both sides of a dose that brought it up: the line is that of the second side."""
    told = log("alkalinity", [60.0, 50.0, 40.0, 30.0, 90.0, 80.0, 70.0, 60.0])
    rows = [
        replace(row, note="potassium bicarbonate in portions") if number == 3 else row
        for number, row in enumerate(told.rows)
    ]
    dosed = replace(told, rows=tuple(rows))
    assert jumped(dosed, "alkalinity", date(2027, 6, 1)) == FIRST + timedelta(days=21)
    assert jumped(told, "alkalinity", date(2027, 6, 1)) is None
    assert jumped(dosed, "nitrate", date(2027, 6, 1)) is None
    found = of_log(dosed, card(), "alkalinity", date(2027, 6, 1))
    assert found is not None
    assert (found.count, found.falling) == (4, True)


def test_a_note_of_a_habit_is_no_jump():
    told = log("nitrate", [5.0, 6.0])
    for note, jump in (("changed 60 L for the nitrate", True), ("tested every Monday now", False)):
        noted = replace(told, rows=(replace(told.rows[0], note=note), told.rows[1]))
        assert (jumped(noted, "nitrate", date(2027, 6, 1)) is not None) is jump


def test_afternoons_are_not_compared_with_mornings():
    """pH 0.4 higher in the afternoon, and the afternoons later in the log: no rise of the mornings."""
    told = log("ph", [7.0] * 5 + [7.4] * 4)
    hours = [8.0] * 5 + [17.0] * 4
    rows = [
        replace(row, readings=(replace(row.readings[0], hour=hour),))
        for row, hour in zip(told.rows, hours, strict=True)
    ]
    found = of_log(replace(told, rows=tuple(rows)), card(), "ph", date(2027, 6, 1))
    assert found is not None
    assert not found.rising
    without = of_log(told, card(), "ph", date(2027, 6, 1))
    assert without is not None
    assert without.rising


def test_a_range_is_as_wide_as_it_was_typed():
    found = interval(Reading(FIRST, "tan", 0.5, "mg_l", "N", half=0.2), card())
    assert (found.low, found.high) == (pytest.approx(0.3), pytest.approx(0.7))


def test_a_reading_of_nothing_may_be_a_little():
    found = interval(Reading(FIRST, "nitrite", 0.0, "mg_l", "N"), card())
    assert found.low == 0.0
    assert 0.0 < found.high < 0.1


# --- where a trend ends -----------------------------------------------------------------------------------


def test_a_trend_ends_on_its_last_reading_and_later_ones_do_not_count():
    """Ten a week down until the fifth week, then up again: on that day nobody knows of the rise."""
    told = log("alkalinity", [80.0, 70.0, 60.0, 50.0, 40.0, 90.0, 140.0])
    until = weekly(7)[4]
    found = of_log(told, card(), "alkalinity", until)
    assert found is not None
    assert (found.first, found.last, found.count) == (FIRST, until, 5)
    assert found.falling
    assert found.now_low <= 40.0 <= found.now_high
    reached = reaches(found, 10.0)
    assert reached is not None
    early, late = reached
    assert late is not None
    # 30 at 10 a week: three weeks.
    assert early <= until + timedelta(days=21) <= late


def test_a_line_that_lies_beyond_the_horizon_is_not_foretold():
    slow = of_log(log("alkalinity", [100.0, 99.0, 98.0, 97.0, 96.0]), card(), "alkalinity", weekly(5)[4])
    assert slow is not None
    assert reaches(slow, 10.0) is None
