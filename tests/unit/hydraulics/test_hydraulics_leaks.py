"""Leaks: how long water lasts, and which loss is usual."""

import math

import pytest

from aquacalc.hydraulics import leaks


def test_the_usual_loss_is_one_to_three_hundredths_a_day():
    low, high = leaks.usual_loss_l_day(1500.0)
    assert (low, high) == pytest.approx((15.0, 45.0))


def test_oxygen_of_falling_water_follows_the_use_over_what_is_left():
    # Small steps of an hour's thousandth: 900 L falling by 600 L/h, oxygen for 2 hours in the full tank.
    tank, falling, still, step = 900.0, 600.0, 2.0, 1e-4
    oxygen, water, hours = 1.0, tank, 0.0
    while oxygen > 0.0:
        oxygen -= step / still * tank / water
        water -= falling * step
        hours += step
    assert leaks.short_of_oxygen_h(still, tank, falling) == pytest.approx(hours, rel=1e-3)


def test_water_that_does_not_fall_keeps_its_time_and_fish_are_short_before_it_is_gone():
    assert leaks.short_of_oxygen_h(2.0, 900.0, 0.0) == 2.0
    assert leaks.short_of_oxygen_h(1e6, 900.0, 600.0) == pytest.approx(1.5)


def test_the_clock_of_a_leak():
    tank = leaks.clock(100.0, 900.0, 600.0, (0.5, 1.0), True)
    assert tank.pump_dry == pytest.approx(1 / 6)
    assert tank.fish_dry == pytest.approx(1 / 6 + 0.8 * 1.5)
    assert tank.half == pytest.approx(500.0 / 600.0)
    assert 1 / 6 < tank.short[0] < tank.short[1] < tank.fish_dry
    loop = leaks.clock(100.0, 900.0, 600.0, (0.5, 1.0), False)
    assert loop.short == pytest.approx((1 / 6 + 0.5, 1 / 6 + 1.0))
    assert math.isinf(loop.fish_dry)
    assert math.isinf(leaks.clock(100.0, 900.0, 0.0, (0.5, 1.0), True).pump_dry)


def test_what_is_left_is_never_less_than_nothing():
    assert leaks.left_l(100.0, 900.0, 600.0, True, 5.0) == 0.0
    assert leaks.left_l(100.0, 900.0, 600.0, False, 5.0) == 900.0
