import numpy as np
import pytest

from aquacalc.water import chlorine

LINE_MG_L = 0.005
"""A line for fish, as the table of limits has it."""


def test_chloramine_does_not_leave_in_the_day_or_two_that_custom_gives_it():
    assert chlorine.days_to(2.0, LINE_MG_L, 0.35) > 14.0
    assert chlorine.days_to(2.0, LINE_MG_L, 0.04) > 120.0


def test_no_days_for_what_is_gone_already():
    assert chlorine.days_to(0.001, 0.005, 1.0) == 0.0


def test_days_and_residual_agree():
    days = chlorine.days_to(1.5, 0.02, 0.7)
    assert chlorine.residual_mg_l(1.5, 0.7, days) == pytest.approx(0.02)


def test_a_strip_that_reads_nothing_proves_nothing():
    assert chlorine.possible_residual_mg_l(0.5, 0.2) > 10.0 * LINE_MG_L


def test_light_in_a_deep_layer_is_less_than_at_its_surface():
    deep = chlorine.depth_mean(np.array([1e-6, 1.0, 5.0]))
    assert deep[0] == pytest.approx(1.0, abs=1e-5)
    assert np.all(np.diff(deep) < 0.0)


def test_alkaline_water_loses_more_to_light():
    assert chlorine.sunlight_loss_per_h(8.5, 25.0) > 3.0 * chlorine.sunlight_loss_per_h(5.5, 25.0)
    assert chlorine.sunlight_loss_per_h(8.0, 25.0, sun=0.0) == 0.0
