"""The loop's warmth through the year: against a general solver, and what must hold of any loop."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from aquacalc.climate import course, loop, tank
from aquacalc.climate.course import Air, Body
from aquacalc.climate.loop import Climate, Loop
from aquacalc.sizing import heat

MEAN = 4.0 + 16.0 * heat.shape_of(45.0)
YEAR = Climate(MEAN + 4.5, MEAN - 4.5, np.full(12, 70.0), np.full(12, 2.0), 10.0 + 0.0 * MEAN, 45.0, "shade")
LOOP = Loop(1000.0, 1.25, 4.4, 0.0, loop.FOAM_W_M_K, False, 0.0, 2.0, False, True, 30.0)
BODY = Body(1000.0, 0.0, 1.1, 3.8, 0.003 / 0.45, 0.0, 1.0, 20.0)


def year(_):
    return YEAR


def year_kwh(one: Loop, setpoint_c: float = 20.0) -> float:
    (found,) = heat.ways([one], year, setpoint_c, members=1)
    return float(found.year_kwh.middle)


def test_three_days_of_hours_are_those_of_a_general_solver():
    clock = np.arange(72.0) + 0.5
    air = Air(
        course.hourly_air_c(38.0, 22.0, clock), 45.0, 1.0, course.hourly_sun(200.0, 14.0, clock % 24.0), 0.3
    )
    balance = course.balance_of(BODY, air)
    own = course.course(balance, BODY, 24.0).water_c
    now, area = 24.0, BODY.top_m2 / BODY.capacity_j_k * 3600.0
    for hour in range(72):
        here = tank.HeatBalance(*(float(np.broadcast_to(one, (72,))[hour]) for one in vars(balance).values()))
        now = solve_ivp(lambda _, c, here=here: here.net_w_m2(c) * area, (0.0, 1.0), [now], rtol=1e-9).y[
            0, -1
        ]
        assert own[hour] == pytest.approx(now, abs=0.01)


def test_in_steady_weather_the_water_settles_where_the_balance_is_nought():
    balance = course.balance_of(BODY, Air(np.full(2000, 20.0), 50.0, 0.1, 0.0, 0.0))
    assert course.course(balance, BODY, 5.0).water_c[-1] == pytest.approx(
        float(balance.settled_c()[-1]), abs=1e-6
    )


def test_a_heater_holds_what_it_can_and_draws_what_is_lost():
    balance = course.balance_of(BODY, Air(np.full(2000, 10.0), 50.0, 0.1, 0.0, 0.0))
    held = course.course(balance, BODY, 22.0, setpoint_c=22.0, heater_w=5000.0)
    assert held.water_c == pytest.approx(22.0)
    assert held.heater_w[-1] == pytest.approx(-float(balance.net_w_m2(22.0)[-1]) * BODY.top_m2)
    weak = course.course(balance, BODY, 22.0, setpoint_c=22.0, heater_w=100.0)
    assert weak.heater_w[-1] == 100.0
    assert weak.water_c[-1] < 22.0


def test_a_bare_tank_in_a_still_room_loses_what_the_parts_add_up_to():
    # 1.1 m2 of quiet surface and 3.78 m2 of wall, as in the table of checks: 44.8 W/K near 20 C.
    body = replace(BODY, walls_m2=3.78, beds_w_k=0.0)
    balance = course.balance_of(body, Air(20.0, 100.0, 0.1, 0.0, 0.0))
    assert float(balance.loss_w_m2_k(20.0)) * body.top_m2 == pytest.approx(44.83, rel=0.005)


def test_wrapped_and_rested_ways_draw_less_and_stand_side_by_side():
    better = heat.wrapped(LOOP, 0.05)
    ways = heat.ways([LOOP, better, heat.resting(better)], year, 20.0, members=5)
    drawn = [float(one.year_kwh.middle) for one in ways]
    assert drawn[0] > 2.0 * drawn[1] > drawn[1] > drawn[2] > 0.0
    assert year_kwh(LOOP) == pytest.approx(
        float(heat.ways([LOOP], year, 20.0, members=1)[0].kwh.middle.sum())
    )


def test_the_day_s_sun_comes_back_whole():
    hours = np.arange(24.0) + 0.5
    assert course.hourly_sun(100.0, 12.0, hours).mean() == pytest.approx(100.0, rel=0.01)


@settings(max_examples=12, deadline=None)
@given(st.floats(0.0, 0.2), st.floats(0.005, 0.1), st.booleans())
def test_thicker_insulation_is_never_dearer_to_run(insulation, more, lid):
    thin = replace(LOOP, insulation_m=insulation, lid=lid, lid_m=insulation * lid)
    assert year_kwh(heat.wrapped(thin, more)) <= year_kwh(thin) + 1e-6
    assert year_kwh(thin, 18.0) <= year_kwh(thin, 21.0) + 1e-6
