"""A year of hourly oxygen and heat against the same equations through a general solver, hour by hour."""

import time

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from aquacalc.climate import course, tank
from aquacalc.climate.course import Air, Body
from aquacalc.sizing import air_day

DAYS = 365
SOLVED_HOURS = 480
LEAST_RATIO = 10.0
BODY = Body(1000.0, 0.0, 1.1, 3.8, 0.003 / 0.45, 0.0, 1.0, 20.0)


@pytest.mark.benchmark
def test_a_year_of_hours_is_ten_times_faster_than_a_general_solver():
    clock = np.arange(24.0 * DAYS) + 0.5
    rng = np.random.default_rng(2)
    exchange, gain, use = (
        rng.uniform(low, high, (DAYS, 24, 1)) for low, high in ((0.5, 2.0), (9.0, 16.0), (0.0, 4.0))
    )
    air = Air(course.hourly_air_c(25.0, 12.0, clock % 24.0), 60.0, 1.0, 0.0, 0.3)
    balance = course.balance_of(BODY, air)

    start = time.perf_counter()
    warmth = course.course(balance, BODY, 15.0).water_c
    # The days one after the other: each begins where the last one ended.
    oxygen = np.empty((DAYS, 24))
    held = np.array([[8.0]])
    for day in range(DAYS):
        at = slice(day, day + 1)
        oxygen[day] = air_day.hourly_mg_l(exchange[at], gain[at], use[at], 1.0, held)[0, :, 0]
        held = np.array([[oxygen[day, -1]]])
    own = (time.perf_counter() - start) / (24 * DAYS)

    area = BODY.top_m2 / BODY.capacity_j_k * 3600.0
    drivers = [np.broadcast_to(one, clock.shape) for one in vars(balance).values()]
    flat = [one.reshape(-1) for one in (exchange, gain, use)]

    def slope(_: float, state: np.ndarray, hour: int) -> list[float]:
        here = tank.HeatBalance(*(float(one[hour]) for one in drivers))
        k, given, taken = (float(one[hour]) for one in flat)
        return [float(here.net_w_m2(state[0])) * area, given - taken - k * state[1]]

    now = np.array([15.0, 8.0])
    solved = np.empty((SOLVED_HOURS, 2))
    start = time.perf_counter()
    for hour in range(SOLVED_HOURS):
        now = solve_ivp(slope, (0.0, 1.0), now, args=(hour,), rtol=1e-6).y[:, -1]
        solved[hour] = now
    general = (time.perf_counter() - start) / SOLVED_HOURS

    assert warmth[:SOLVED_HOURS] == pytest.approx(solved[:, 0], abs=0.02)
    assert oxygen.reshape(-1)[:SOLVED_HOURS] == pytest.approx(solved[:, 1], abs=1e-3)
    ratio = general / own
    print(f"oxygen, heat: {1e6 * own:.0f} us an hour, solver {1e6 * general:.0f} us, {ratio:.0f} times")
    assert ratio > LEAST_RATIO
