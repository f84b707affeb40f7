"""The line through readings, against scipy, and the day on which it meets another."""

import numpy as np
import pytest
from scipy.stats import linregress

from aquacalc.climate import trend


def test_slope_and_its_error_are_those_of_a_library():
    rng = np.random.default_rng(3)
    days = np.arange(12.0)
    water = 18.0 + 0.4 * days + rng.normal(0.0, 0.8, 12)
    found, told = trend.trend(days, water), linregress(days, water)
    assert found.slope_k_d == pytest.approx(told.slope)
    assert found.error_k_d == pytest.approx(told.stderr)
    assert found.sure


def test_the_day_of_a_line_is_a_range_and_never_far_off():
    found = trend.Trend(20.0, 0.5, 0.1)
    fast, middle, slow = found.days_to(23.0)
    assert fast < middle == 6.0 < slow
    assert found.days_to(60.0) == (np.inf, np.inf, np.inf)
    assert found.days_to(15.0) == (np.inf, np.inf, np.inf)
    falling = trend.Trend(12.0, -0.5, 0.1)
    assert falling.days_to(9.0)[1] == 6.0


def test_readings_that_stand_have_no_sure_way():
    assert not trend.trend([0.0, 1.0, 2.0, 3.0], [20.0, 20.1, 20.0, 20.1]).sure
