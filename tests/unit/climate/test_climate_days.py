import math

import numpy as np
import pytest

from aquacalc.climate import days


def year_with_frost_on(*frosty: int) -> np.ndarray:
    minima = np.full(365, 8.0)
    minima[list(frosty)] = -1.0
    return minima


def test_northern_frost_is_split_at_midsummer():
    found = days.frost_dates(year_with_frost_on(10, 40, 110, 300, 350))
    assert (found.last_spring[0], found.first_autumn[0]) == (110.0, 300.0)


def test_southern_frost_is_split_at_new_year():
    found = days.frost_dates(year_with_frost_on(150, 170, 200, 250), southern=True)
    assert (found.last_spring[0], found.first_autumn[0]) == (250.0, 150.0)


def test_a_place_without_frost_has_no_dates():
    found = days.frost_dates(np.full(365, 8.0))
    assert math.isnan(found.last_spring_median)
    assert math.isnan(found.first_autumn_safe)


def test_few_years_give_the_latest_and_many_the_spread():
    few = days.frost_dates(np.stack([year_with_frost_on(d, 300 + k) for k, d in enumerate((80, 95, 120))]))
    assert few.last_spring_median == 95.0
    assert few.last_spring_safe == 120.0
    assert few.first_autumn_safe == 300.0
    springs = np.arange(80, 120, 4)
    many = days.frost_dates(np.stack([year_with_frost_on(int(d), 310) for d in springs]))
    assert many.last_spring_safe == pytest.approx(springs.mean() + 1.28 * springs.std(ddof=1))


def test_degree_days_stop_at_the_cap():
    warm = days.growing_degree_days(np.array([30.0, 40.0]), np.array([20.0, 30.0]), 10.0, cap_c=28.0)
    assert warm == pytest.approx([14.0, 18.0])
