"""Leaks: how long water lasts, and which loss is usual."""

import math

import pytest

from aquacalc.hydraulics import leaks


def test_water_lasts_by_what_runs_out_more_than_in():
    assert leaks.hours_left(1000.0, 600.0) == pytest.approx(1000.0 / 600.0)
    assert leaks.hours_left(1000.0, 600.0, 400.0) == pytest.approx(5.0)


@pytest.mark.parametrize("inflow", [600.0, 700.0])
def test_water_that_runs_in_as_fast_lasts_without_end(inflow: float):
    assert math.isinf(leaks.hours_left(1000.0, 600.0, inflow))


def test_the_usual_loss_is_one_to_three_hundredths_a_day():
    low, high = leaks.usual_loss_l_day(1500.0)
    assert (low, high) == pytest.approx((15.0, 45.0))
