"""Water in a pipe in frost, against a solver and by what must hold."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from aquacalc.climate import pipes, tank

PIPE = pipes.resistance_m_k_w(0.025, 0.02, 0.036, 30.0)


def test_the_way_to_zero_is_that_of_a_solver():
    capacity = tank.WATER_HEAT_J_L_K * pipes.litres_per_m(0.025)
    hours = pipes.hours_to_zero(0.025, PIPE, 6.0, -9.0)
    run = solve_ivp(
        lambda _, c: (-9.0 - c) / (PIPE * capacity), (0.0, 3600.0 * hours), [6.0], rtol=1e-9, atol=1e-9
    )
    assert run.y[0, -1] == pytest.approx(0.0, abs=1e-4)


def test_water_at_the_flow_that_keeps_open_leaves_at_zero():
    flow = pipes.flow_that_keeps_open_l_h(8.0, PIPE, 5.0, -10.0)
    run = solve_ivp(
        lambda _, c: (-10.0 - c) / (PIPE * tank.WATER_HEAT_J_L_K * flow / 3600.0),
        (0.0, 8.0),
        [5.0],
        rtol=1e-9,
    )
    assert run.y[0, -1] == pytest.approx(0.0, abs=1e-4)


def test_air_that_is_not_below_zero_freezes_nothing():
    assert pipes.hours_to_zero(0.025, PIPE, 5.0, 0.0) == math.inf
    assert pipes.flow_that_keeps_open_l_h(8.0, PIPE, 5.0, 1.0) == 0.0
    assert pipes.hours_to_zero(0.025, PIPE, 0.0, -5.0) == 0.0


@settings(max_examples=50)
@given(st.floats(0.01, 0.1), st.floats(0.0, 0.1), st.floats(0.001, 0.05), st.floats(-30.0, -1.0))
def test_more_foam_and_milder_frost_last_longer(bore, foam, more, air):
    thin, thick = (pipes.resistance_m_k_w(bore, one, 0.036, 30.0) for one in (foam, foam + more))
    assert pipes.hours_to_zero(bore, thick, 5.0, air) > pipes.hours_to_zero(bore, thin, 5.0, air)
    assert pipes.hours_to_ice(bore, thin, air / 2.0) > pipes.hours_to_ice(bore, thin, air)
