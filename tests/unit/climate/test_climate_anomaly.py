"""Weather that departs from the usual year."""

import numpy as np
import pytest

from aquacalc.climate import anomaly


def test_the_anomaly_has_the_spread_and_the_memory_that_were_asked_for():
    found = anomaly.daily_k(np.random.default_rng(3), 4000, 5, np.array([1.0, 2.0, 2.7, 3.0, 4.0]))
    assert found.std(axis=0) == pytest.approx([1.0, 2.0, 2.7, 3.0, 4.0], rel=0.08)
    lag = [np.corrcoef(one[:-1], one[1:])[0, 1] for one in found.T]
    assert lag == pytest.approx([anomaly.LAG_ONE] * 5, abs=0.03)


def test_the_first_day_is_as_uncertain_as_any_other():
    found = anomaly.daily_k(np.random.default_rng(3), 2, 20_000, 2.7)
    assert found[0].std() == pytest.approx(found[1].std(), rel=0.03)


def test_water_follows_late_and_less_and_a_small_tank_more():
    air = anomaly.daily_k(np.random.default_rng(3), 2000, 1, 2.7)
    small, large = anomaly.followed_k(air, 10.0), anomaly.followed_k(air, 100.0)
    assert air.std() > small.std() > large.std() > 0.0


def test_water_ends_where_a_steady_anomaly_is():
    found = anomaly.followed_k(np.full((60, 1), 3.0), 48.0)
    assert found[0, 0] < 2.0
    assert found[-1, 0] == pytest.approx(3.0, abs=1e-6)
