"""Oxygen through the hours: against a general solver, against the balance, and what must hold of any day."""

from dataclasses import replace

import numpy as np
import pytest
from hand_made_garden import garden
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from aquacalc import aeration
from aquacalc.sizing import air_day, balance, limits
from aquacalc.sizing.air_day import Question

TANK = Question(
    "nile_tilapia",
    10.0,
    250.0,
    120.0,
    1000.0,
    1.1,
    27.0,
    1.5,
    0.0,
    1500.0,
    0.2,
    "free",
    0.5,
    20.0,
    0.6,
    "small",
)


def lowest(asked: Question) -> float:
    return float(air_day.alone(asked, members=1).lowest_mg_l.middle)


def column(values: object) -> np.ndarray:
    return np.asarray(values, dtype=float)[None, :, None]


def test_each_hour_is_that_of_a_general_solver():
    rng = np.random.default_rng(3)
    exchange, gain = rng.uniform(0.3, 3.0, 24), rng.uniform(8.0, 20.0, 24)
    use = rng.uniform(0.0, 6.0, 24)
    own = air_day.hourly_mg_l(column(exchange), column(gain), column(use), 1.2)[0, :, 0]
    now = own[-1]  # the day repeats itself
    for hour in range(24):
        solved = solve_ivp(
            lambda _, c, h=hour: (gain[h] - use[h] - exchange[h] * c) / 1.2, (0.0, 1.0), [now], rtol=1e-9
        )
        now = solved.y[0, -1]
        assert own[hour] == pytest.approx(now, abs=1e-6)


def test_what_is_not_there_is_not_breathed():
    found = air_day.hourly_mg_l(column([1.0] * 24), column([1.0] * 12 + [30.0] * 12), column([5.0] * 24), 1.0)
    assert found.min() == 0.0
    assert found[0, -1, 0] > 20.0


def test_a_given_start_counts():
    one = column(np.ones(24))
    assert air_day.hourly_mg_l(one, 8.0 * one, one, 1.0, np.array([[7.0]])) == pytest.approx(7.0)


def test_the_feed_that_the_balance_grants_holds_the_line_all_day():
    made = garden()
    now, _, _ = balance.conditions(made, 40)
    air = air_day.exchange_of(made, now.draw, now.flow_l_h[:, 0])
    granted = limits.oxygen(now)[:, :1].T
    water = np.broadcast_to(now.water_c[:, :1].T[:, None], (1, 24, 40))
    held = np.broadcast_to(now.saturation_mg_l[:, :1].T[:, None], (1, 24, 40))
    use = air_day.use_g_h(
        granted,
        np.zeros_like(granted),
        now.draw["oxygen_per_feed_whole_kg_kg"],
        now.draw["oxygen_peak_factor"],
    )
    line = limits.oxygen_wanted_mg_l(made)
    litres = made.tanks[0].volume_l / 1000.0
    moved, gain = np.broadcast_to(air.m3_h(water), water.shape), air.gain_g_h(water, held)
    assert air_day.hourly_mg_l(moved, gain, use, litres).min() >= line - 1e-9
    # The water has some hours in store, no more than that.
    more = air_day.hourly_mg_l(moved, gain, 2.0 * use, litres).min(axis=1)
    assert (more[granted > 0.0] < line).all()


def test_the_pump_that_is_named_holds_the_line_just_so():
    needed = air_day.alone(TANK, members=1)
    named = replace(TANK, air_l_min=float(needed.rated_l_min.middle))
    assert lowest(named) == pytest.approx(needed.line_mg_l, abs=0.01)
    assert float(air_day.alone(named, members=1).rated_l_min.middle) == pytest.approx(
        named.air_l_min, rel=1e-3
    )


def test_no_air_holds_a_line_over_saturation():
    hot = replace(TANK, species="rainbow_trout", water_c=34.0, altitude_m=3000.0)
    assert np.isinf(float(air_day.alone(hot, members=1).rated_l_min.middle))


def test_unfed_fish_still_breathe():
    fasting = air_day.alone(replace(TANK, feed_g_day=0.0), members=1)
    assert float(fasting.use_g_h.middle) > 0.2
    assert float(fasting.use_g_h.middle) < float(air_day.alone(TANK, members=1).use_g_h.middle)


def test_an_outlet_under_water_gives_the_fall_away():
    free = air_day.alone(TANK, members=1).brought_g_h["fall"]
    under = air_day.alone(replace(TANK, lip="under"), members=1).brought_g_h["fall"]
    assert float(under.middle) < 0.1 * float(free.middle)


def test_a_fall_is_that_of_the_ratio_of_deficits():
    fall = aeration.Fall(2.0, 0.3, 1.6, 0.8)
    ratio = aeration.deficit_ratio(0.3, 25.0)
    after = aeration.oxygen_after_fall_mg_l(5.0, 8.26, ratio)
    assert fall.exchange_m3_h(25.0) * (8.26 - 5.0) == pytest.approx(aeration.carried_g_h(2000.0, after - 5.0))


def test_the_garden_has_a_day_for_each_month_with_fish():
    made = garden()
    days = air_day.of_garden(made, members=20)
    stocked = balance.balance(made, members=20).demand.count > 0.0
    assert [day is not None for day in days] == stocked.tolist()
    assert all(day.oxygen_mg_l.middle.shape == (24,) for day in days if day is not None)


@given(
    st.sampled_from(
        [("air_l_min", 30.0), ("depth_m", 0.9), ("fall_m", 0.5), ("surface_m2", 2.0), ("drained_share", 0.9)]
    ),
    st.floats(15.0, 34.0),
    st.floats(10.0, 400.0),
)
def test_more_of_what_brings_oxygen_never_leaves_less_below_saturation(more, water_c, feed_g_day):
    name, value = more
    asked = replace(TANK, water_c=water_c, feed_g_day=feed_g_day, fall_m=0.0)
    assert lowest(replace(asked, **{name: value})) >= lowest(asked) - 1e-9


@given(st.floats(15.0, 33.0), st.floats(0.0, 300.0), st.floats(0.0, 300.0))
def test_warmer_water_and_more_feed_never_leave_more(water_c, feed_g_day, extra):
    asked = replace(TANK, water_c=water_c, feed_g_day=feed_g_day)
    assert lowest(replace(asked, feed_g_day=feed_g_day + extra)) <= lowest(asked) + 1e-9
    assert lowest(replace(asked, kg=20.0)) <= lowest(asked) + 1e-9
