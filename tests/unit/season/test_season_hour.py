"""The hourly step: its arithmetic, the pH inside it, what it must never do."""

import math

import numpy as np
import pytest

from aquacalc import nitrogen
from aquacalc.season import hour
from aquacalc.sizing import hours
from aquacalc.water import carbonate


@pytest.mark.parametrize("celsius", [2.0, 15.0, 25.0, 38.0])
@pytest.mark.parametrize("dioxide_mg_l", [0.3, 1.0, 5.0, 40.0])
def test_the_ph_by_a_fixed_number_of_steps_is_the_solved_one(celsius: float, dioxide_mg_l: float):
    at = carbonate.constants_at(celsius, 0.006)
    alkalinity = np.geomspace(0.05, 400.0, 60)
    ph = carbonate.ph_at_carbon_dioxide_at(alkalinity, dioxide_mg_l, at)
    share = carbonate.carbon_dioxide_share(10.0**-ph, at)
    carbon = dioxide_mg_l / carbonate.MG_L_CO2_PER_MOL_L / share
    found = carbonate.hydrogen_closed(alkalinity / carbonate.MG_L_CACO3_PER_EQ_L, carbon, at)
    assert -np.log10(found) == pytest.approx(ph, abs=1e-3)


def test_the_slope_of_carbon_dioxide_is_its_change_with_carbon():
    at = carbonate.constants_at(20.0, 0.006)
    alkalinity = np.array([5.0, 50.0, 200.0]) / carbonate.MG_L_CACO3_PER_EQ_L
    carbon = alkalinity * np.array([1.5, 1.1, 1.02])

    def dioxide(carbon_mol_l):
        hydrogen = carbonate.hydrogen_closed(alkalinity, carbon_mol_l, at)
        return carbon_mol_l * carbonate.carbon_dioxide_share(hydrogen, at)

    hydrogen = carbonate.hydrogen_closed(alkalinity, carbon, at)
    step = 1e-4 * carbon
    measured = (dioxide(carbon + step) - dioxide(carbon - step)) / (2.0 * step)
    slope = carbonate.carbon_dioxide_slope(hydrogen, carbon, at)
    assert slope == pytest.approx(measured, rel=1e-3)
    # The bend is upwards, which is what keeps the step from taking more carbon than is there.
    assert np.all(slope > carbonate.carbon_dioxide_share(hydrogen, at))


def test_an_amount_relaxes_as_the_exponential_does_and_stops_in_balance():
    speed = np.array([0.01, 0.1, 0.5, 1.0])
    exact = 3.0 * np.exp(-speed) + 2.0 * (1.0 - np.exp(-speed)) / speed
    assert hour.relaxed(3.0, 2.0, speed) == pytest.approx(exact, rel=6e-3)
    assert hour.relaxed(3.0, 2.0, speed[:2]) == pytest.approx(exact[:2], rel=2e-5)
    assert hour.relaxed(2.0 / speed, 2.0, speed) == pytest.approx(2.0 / speed, rel=1e-14)
    assert hour.relaxed(0.0, 0.0, 1e6) == 0.0
    assert hour.relaxed(5.0, 0.0, 1e9) >= 0.0


def test_the_middle_of_an_hour_is_of_second_order_and_positive():
    def curve(t):
        return math.exp(-0.8 * t) + 0.2

    errors = [
        abs(hour.middle(curve(1.0), curve(1.0 - step)) - curve(1.0 + step / 2.0)) for step in (0.1, 0.05)
    ]
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.15)
    assert hour.middle(0.1, 50.0) > 0.0
    assert hour.middle(0.0, 1.0) == 0.0


def test_meals_make_fish_breathe_as_the_trade_says():
    # The trade: at its peak 1.3 to 1.5 times the day's mean with several meals, twice after one large meal.
    def peak(meals):
        shape = hours.meal_shape(meals)
        assert shape.mean() == pytest.approx(1.0)
        return float((hours.RESTING_SHARE + (1.0 - hours.RESTING_SHARE) * shape).max())

    assert 1.3 <= peak((8, 17)) <= 1.5
    assert 1.9 <= peak((8,)) <= 2.3


def test_water_is_warmest_late_in_the_afternoon_and_keeps_its_mean():
    water = hours.water_by_hour_c(np.array([[20.0], [5.0]]), np.array([[1.5], [0.0]]))
    assert water.shape == (2, 24, 1)
    assert water[0].mean() == pytest.approx(20.0)
    assert water[0].max() == pytest.approx(21.5, abs=0.02)
    clock = (np.arange(24) + hours.FIRST_HOUR) % 24
    assert clock[int(water[0].argmax())] in (16, 17)
    assert np.all(water[1] == 5.0)


def test_cells_hold_the_nitrogen_that_growth_took():
    kinetics = nitrogen.Kinetics.typical()
    rates = hour.Rates(kinetics, 1e-6, 3e-10, 0.05, 1.5, 2.86, 0.5, 0.028, 16.0, 0.15)
    zero = hour.Water(*([0.0] * 7), 2.0, 3.0, 1000.0)
    a, n = kinetics.ammonia, kinetics.nitrite
    expected = 0.086 * (2.0 * 0.15 / a.growth_1_d + 3.0 * 0.05 / n.growth_1_d)
    assert hour.cell_nitrogen_g(zero, rates) == pytest.approx(expected)
