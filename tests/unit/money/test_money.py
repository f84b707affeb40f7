import math
from dataclasses import replace
from datetime import date

import hand_made_garden
import pytest
from accounts import YEAR

from aquacalc import money
from aquacalc.garden.model import Device, Light, Power, Season

GARDEN = replace(
    hand_made_garden.garden(),
    season=Season(date(2027, 3, 1), date(2027, 3, 10)),
    light=Light(100.0, 6.0, 50.0),
    power=Power("none", devices=(Device("fan", 40.0, 3.0), Device("off", 40.0, 0.0))),
)


def test_electricity_is_power_times_hours_of_all_that_runs_by_the_clock():
    pump, air = GARDEN.pumps[0], GARDEN.air
    assert air is not None
    watt_hours_a_day = (
        pump.power_w * pump.count * 24.0 * pump.share_on + air.power_w * 24.0 + 50.0 * 6.0 + 40.0 * 3.0
    )
    assert money.season_kwh(GARDEN) == pytest.approx(10 * watt_hours_a_day / 1000.0)


def test_what_draws_nothing_is_not_listed():
    kinds = [load.kind for load in money.loads(GARDEN)]
    assert kinds == ["pump", "air", "lamps", "device"]
    assert [load.kind for load in money.loads(replace(GARDEN, air=None, light=Light()))] == ["pump", "device"]


def test_pumps_of_which_there_are_several_and_that_rest_count_so():
    one = GARDEN.pumps[0]
    half = replace(GARDEN, pumps=(replace(one, count=3, share_on=0.5),))
    load = money.loads(half)[0]
    assert (load.power_w, load.hours_day) == (3 * one.power_w, 12.0)


def test_lines_make_the_sum_and_work_makes_a_kilogram_dearer():
    assert sum(YEAR.costs.values()) == pytest.approx(YEAR.spent)
    assert YEAR.left == pytest.approx(YEAR.worth - YEAR.spent)
    grown = YEAR.fish_kg + YEAR.crops_kg
    assert (YEAR.cost_kg(True) - YEAR.cost_kg(False)) * grown == pytest.approx(YEAR.labour)


def test_a_good_year_leaves_more_than_a_fair_one_and_that_more_than_a_poor_one():
    poor, fair, good = money.cases(YEAR).values()
    assert poor.left < fair.left < good.left
    assert fair == YEAR


@pytest.mark.parametrize("key", money.TRIED)
def test_a_change_never_costs(key: str):
    heated = replace(YEAR, heat_kwh=100.0)
    changed = money.changed(heated, key)
    assert changed.left >= heated.left
    assert changed != heated


def test_without_work_an_hour_has_no_price():
    assert math.isnan(replace(YEAR, hours_week=0.0).left_an_hour)
