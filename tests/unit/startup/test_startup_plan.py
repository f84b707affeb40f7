"""A start-up planned: dates in order, readings that move them, first fish, days to look, what delays it."""

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
import started

from aquacalc.errors import InputError
from aquacalc.startup import case as cases
from aquacalc.startup import delays, plan, readings
from aquacalc.startup.plan import Choice

WARM = cases.typed(1000.0, 25.0, date(2027, 4, 1), film_m2=125.0, ph=7.5, alkalinity_mg_l=150.0)


def of(choice: Choice, case: cases.Case = WARM) -> plan.StartUp:
    return plan.of_case(case, choice, members=40)


def test_what_happens_comes_in_its_order():
    start = of(Choice())
    middles = [start.span(name).middle for name in plan.NAMES]
    assert middles == sorted(middles)
    assert start.days("first_fish").middle == start.case.date_of(int(middles[4]))
    assert start.span("first_fish").low == start.forecast.confirmed.low + plan.STOCK_AFTER_DAYS


def test_the_warm_timeline_of_the_reference_lies_in_the_middle():
    # Rule P1 from 3e-3 at 25 C and a first dose of 3 mg/L is complete on day 31.
    assert of(Choice()).span("complete").middle == pytest.approx(31.0, abs=3.0)


def test_cold_water_takes_longer_and_mature_media_less():
    middle = of(Choice()).span("complete").middle
    colder = replace(WARM, water_c=np.array([15.0]))
    assert of(Choice(), colder).span("complete").middle > 1.8 * middle
    seeded = of(Choice(seed="tenth"), replace(WARM, seed="tenth"))
    assert seeded.span("complete").high < 0.6 * middle


def test_water_below_eight_is_unreliable_and_below_four_refused():
    assert of(Choice(), replace(WARM, water_c=np.array([7.0]))).unreliable
    with pytest.raises(InputError) as error:
        of(Choice(), replace(WARM, water_c=np.array([3.0])))
    assert error.value.problems[0].key == "problem-startup-cold"


def test_a_choice_is_read_from_the_garden_file():
    garden, _ = started.southern()
    found = plan.choice_of(garden)
    assert (found.product, found.strength_pct, found.first) == ("ammonium_chloride", 99.0, date(2027, 9, 6))
    bare = replace(garden, start_up=replace(garden.start_up, product="", strength_pct=None), products=())
    assert plan.choice_of(bare).product == "ammonium_chloride"


def test_the_log_of_the_demo_moves_its_dates():
    garden, log = started.southern()
    told, before = started.read(), started.planned()
    assert told.forecast.today == (log.rows[-1].day - told.first).days
    assert len(told.forecast.readings) > 30
    assert told.days("ammonia_clear") != before.days("ammonia_clear")
    assert told.span("ammonia_clear").high - told.span("ammonia_clear").low < (
        before.span("ammonia_clear").high - before.span("ammonia_clear").low
    )
    assert garden.start_up.state == "new"


def test_a_typed_reading_moves_the_dates_and_simulates_nothing():
    before = started.planned()
    day = int(before.span("nitrite_peak").middle)
    gone = [readings.of_value(day, "nitrite", 0.05), readings.of_value(day, "tan", 0.05)]
    after = plan.with_readings(before, gone)
    assert after.forecast.course is before.forecast.course
    assert after.span("complete").middle < before.span("complete").middle


def test_a_reading_before_the_first_dose_is_refused():
    with pytest.raises(InputError) as error:
        plan.with_readings(started.planned(), [readings.of_value(-3, "tan", 1.0)])
    problem = error.value.problems[0]
    assert problem.key == "problem-startup-before"
    assert problem.allowed == ("2027-09-06",)


def test_first_fish_are_those_that_the_challenge_feeds():
    garden, _ = started.southern()
    start = started.planned()
    found = plan.first_of(start, garden, 18.8)
    assert found.proven_g_day == pytest.approx(2.0 * start.case.litres / 1000.0 / (0.32 * 0.092))
    assert found.fish is not None
    assert found.fish.count == 60
    assert max(found.feed_g_day) <= found.first_g_day
    few = plan.first_of(start, garden, 18.8, proven=20.0)
    assert few.fish is not None
    assert few.fish.bound_by == "proven feed"


def test_days_to_look_are_every_second_and_alkalinity_every_fourth():
    looks = plan.looks(started.planned(), 5)
    assert [one.day - looks[0].day for one in looks] == [timedelta(days=2 * k) for k in range(5)]
    assert ["alkalinity" in one.tests for one in looks] == [True, False, True, False, True]


@pytest.mark.slow
def test_used_up_alkalinity_delays_more_than_missed_doses():
    found = {one.key: one for one in delays.delays_of(of(Choice()), members=30)}
    assert set(found) == set(delays.MISHAPS)
    assert found["ph_stall"].middle > found["missed_doses"].middle
    assert found["ph_stall"].low > 3.0
    assert found["untreated_top_up"].middle > 0.0
    assert found["cold_week"].middle > 0.0


def test_with_fish_nothing_is_dosed_and_the_end_is_nitrite_that_is_down():
    choice = Choice(method="fish", fish_feed_g_day=3.0)
    given = 3.0 * WARM.protein * 92.0 / WARM.litres
    start = of(choice, replace(WARM, source_mg_l_d=np.array([given])))
    assert start.forecast.course.by_rule.max() == 0.0 or start.forecast.course.tan_dosed.max() <= given + 1e-9
    assert start.span("first_fish").middle == start.forecast.span("nitrite_clear").middle + 2


def test_needed_days_are_worked_out_once_and_grow_with_the_cold():
    garden, _ = started.southern()
    needed = delays.needed(garden, plan.choice_of(garden), members=12)
    winter, summer = needed(date(2027, 6, 20)), needed(date(2027, 12, 20))
    assert winter[1] > summer[1]
    assert needed(date(2027, 12, 20)) is summer
    assert math.isfinite(summer[0])


def test_a_heater_warms_the_days_to_come_and_not_those_that_were_read():
    garden, log = started.southern()
    warmed = plan.of_garden(garden, log, replace(plan.choice_of(garden), warmer_k=6.0), started.TRIES)
    told = started.read()
    today = told.forecast.today
    assert warmed.case.water_c[: today + 1] == pytest.approx(told.case.water_c[: today + 1])
    assert warmed.case.water_c[today + 1 :] == pytest.approx(told.case.water_c[today + 1 :] + 6.0)
    assert warmed.span("complete").middle < told.span("complete").middle


def test_a_solution_named_in_the_file_is_poured():
    garden, _ = started.southern()
    told = replace(garden.start_up, product="ammonia_solution", strength_pct=10.0)
    found = plan.choice_of(replace(garden, start_up=told))
    assert (found.method, found.product, found.strength_pct) == ("solution", "ammonia_solution", 10.0)
    assert plan.source_of(found).is_solution


def test_a_first_dose_of_solution_brings_alkalinity():
    salt = plan.first_events(plan.Choice())
    solution = plan.first_events(
        plan.Choice(method="solution", product="ammonia_solution", strength_pct=10.0)
    )
    assert [one.key for one in (*salt, *solution)] == ["ammonium_salt", "ammonia_water"]


def test_alkalinity_is_tested_on_every_look_while_it_is_low():
    start = started.read()
    assert all("alkalinity" in one.tests for one in plan.looks(start, 4))
    usual = [one for one in start.forecast.readings if one.parameter != "alkalinity"]
    forecast = replace(start.forecast, readings=tuple(usual))
    assert not all("alkalinity" in one.tests for one in plan.looks(replace(start, forecast=forecast), 4))
