import numpy as np
import pytest

from aquacalc.climate import months

YEAR = np.array([4.0, 5.0, 8.0, 12.0, 16.0, 20.0, 22.0, 21.0, 18.0, 13.0, 8.0, 5.0])


def test_the_year_is_smooth_across_new_year():
    daily = months.monthly_to_daily(YEAR)
    round_the_year = np.concatenate([daily, daily[:3]])
    assert np.abs(np.diff(round_the_year, 2)).max() < 0.005
    assert np.abs(np.diff(round_the_year, 3)).max() < 0.001


def test_a_level_year_stays_level():
    assert months.monthly_to_daily(np.full(12, 7.3)) == pytest.approx(7.3)


def test_members_go_along():
    daily = months.monthly_to_daily(np.stack([YEAR, YEAR + 3.0, -YEAR]))
    assert daily.shape == (3, 365)
    assert daily[1] - daily[0] == pytest.approx(3.0)
    assert daily[2] == pytest.approx(-daily[0])


def test_turning_the_months_turns_the_year():
    peak = int(np.argmax(months.monthly_to_daily(YEAR)))
    southern = int(np.argmax(months.monthly_to_daily(np.roll(YEAR, 6))))
    assert (southern - peak) % 365 == pytest.approx(184, abs=3)


def test_days_of_the_year():
    assert months.day_of_year(1, 1) == 0
    assert months.day_of_year(12, 31) == 364
    assert months.day_of_year(2, 29) == months.day_of_year(2, 28) == 58
    assert np.bincount(months.month_of_day()).tolist() == list(months.DAYS_IN_MONTH)
