"""What holds for any year, any place, any tank."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from aquacalc.climate import days, evaporation, months, sun, tank

latitudes = st.floats(-89.9, 89.9)
years = hnp.arrays(
    np.float64, hnp.array_shapes(max_dims=2, max_side=3).map(lambda s: (*s, 12)), elements=st.floats(-40, 60)
)
air = st.floats(-5.0, 40.0)
humidity = st.floats(5.0, 100.0)
wind = st.floats(0.0, 8.0)
light = st.floats(0.0, 330.0)


@given(years)
def test_the_days_have_the_months_means(monthly: np.ndarray):
    daily = months.monthly_to_daily(monthly)
    assert daily.shape == (*monthly.shape[:-1], 365)
    assert np.abs(months.monthly_means(daily) - monthly).max() < 1e-9


@given(years, st.floats(-20.0, 20.0))
def test_days_follow_the_months_in_proportion(monthly: np.ndarray, factor: float):
    scaled = months.monthly_to_daily(factor * monthly + 3.0)
    assert scaled == pytest.approx(factor * months.monthly_to_daily(monthly) + 3.0, abs=1e-8)


@given(latitudes, st.integers(0, 364))
def test_sun_stays_within_its_limits(latitude: float, day: int):
    hours = sun.day_length_h(latitude, day)
    above = sun.extraterrestrial_mj_m2_d(latitude, day)
    assert 0.0 <= hours <= 24.0
    assert 0.0 <= above < 50.0
    assert hours + sun.day_length_h(-latitude, day) == pytest.approx(24.0)
    assert hours > 0.0 or above == pytest.approx(0.0, abs=1e-9)


@given(st.floats(68.0, 89.0))
def test_midwinter_is_dark_and_midsummer_light_beyond_the_circle(latitude: float):
    assert sun.day_length_h(latitude, 354) == 0.0
    assert sun.day_length_h(latitude, 171) == 24.0
    assert sun.day_length_h(-latitude, 354) == 24.0


@given(st.floats(-5.0, 35.0), st.floats(0.1, 10.0), humidity, wind)
def test_evaporation_rises_with_warm_water_and_wind(water: float, step: float, moist: float, speed: float):
    now = evaporation.surface_evaporation_l_d(2.0, water, 20.0, moist, speed)
    assert now >= 0.0
    assert evaporation.surface_evaporation_l_d(2.0, water + step, 20.0, moist, speed) >= now
    assert evaporation.surface_evaporation_l_d(2.0, water, 20.0, moist, speed + step) >= now


@given(st.floats(0.0, 40.0), st.floats(1.0, 20.0), st.floats(0.0, 45.0))
def test_hargreaves_rises_with_temperature_and_sun(mean: float, spread: float, above: float):
    now = evaporation.et0_hargreaves(mean + spread / 2, mean - spread / 2, above)
    assert evaporation.et0_hargreaves(mean + 1 + spread / 2, mean + 1 - spread / 2, above) >= now
    assert evaporation.et0_hargreaves(mean + spread / 2, mean - spread / 2, above + 1) > now


@given(air, humidity, wind, light, st.floats(0.0, 1.0), st.floats(0.1, 5.0))
def test_sun_and_moist_air_warm_a_tank_and_sky_and_stirring_cool_it(
    t: float, moist: float, speed: float, watts: float, sky: float, step: float
):
    now = tank.heat_balance(t, moist, speed, watts, sky_share=sky).settled_c()
    close = 1e-6
    assert tank.heat_balance(t, moist, speed, watts + 10 * step, sky_share=sky).settled_c() > now
    assert tank.heat_balance(t, moist, speed, watts, sky_share=sky, gain_w_m2=10 * step).settled_c() > now
    drier = tank.heat_balance(t, moist * 0.9, speed, watts, sky_share=sky, wetness=1.0).settled_c()
    assert sky > 0.0 or drier <= now + close
    warmer = tank.heat_balance(t + step, moist, speed, watts, sky_share=sky).settled_c()
    assert warmer > now


@given(air, humidity, wind, light)
def test_better_walls_bring_a_tank_nearer_to_what_its_surface_alone_would_give(
    t: float, moist: float, speed: float, watts: float
):
    bare = tank.heat_balance(t, moist, speed, watts, walls_w_m2_k=40.0).settled_c()
    tight = tank.heat_balance(t, moist, speed, watts, walls_w_m2_k=1.0).settled_c()
    assert abs(bare - t) <= abs(tight - t) + 1e-6


@given(st.floats(0.1, 300.0), st.floats(1.0, 9000.0))
def test_damping_is_a_share_and_the_lag_under_a_quarter_period(constant: float, period: float):
    assert 0.0 < tank.damping(constant, period) < 1.0
    assert 0.0 < tank.lag_h(constant, period) < period / 4.0


@given(st.floats(-10.0, 35.0), st.floats(0.0, 20.0), st.floats(0.0, 15.0))
def test_extremes_never_count_less_than_means(mean: float, spread: float, base: float):
    high, low = mean + spread / 2, mean - spread / 2
    by_mean = days.growing_degree_days(high, low, base)
    by_extremes = days.growing_degree_days(high, low, base, method="extremes")
    assert by_extremes >= by_mean - 1e-12


@given(st.lists(st.integers(0, 364), min_size=1, max_size=30))
def test_no_frost_lies_between_the_dates(frosty: list[int]):
    minima = np.full(365, 5.0)
    minima[frosty] = -2.0
    found = days.frost_dates(minima)
    last, first = found.last_spring[0], found.first_autumn[0]
    for day in frosty:
        assert np.isnan(last) or day <= last or day >= days.MIDSUMMER_DAY
        assert np.isnan(first) or day >= first or day < days.MIDSUMMER_DAY
