"""Water in a pipe in frost: how long it can stand, and what flow keeps it open. One metre of pipe, no sun."""

import math

from aquacalc.climate.spell import ICE_MELT_J_KG
from aquacalc.climate.tank import WATER_HEAT_J_L_K
from aquacalc.constants import SECONDS_PER_HOUR
from aquacalc.possible import possible

WALL_SHARE = 0.1
"""Wall of a plastic pipe over its bore. Common practice, no source."""
PLASTIC_W_M_K = 0.19
"""Conductivity of hard PVC, from memory."""
STILL_W_M2_K, WINDY_W_M2_K = 10.0, 30.0
"""Heat to the air from a pipe, still and in wind, from memory."""


def resistance_m_k_w(bore_m: float, insulation_m: float, conductivity_w_m_k: float, film: float) -> float:
    """From the water in a metre of pipe to the air. film: heat to the air, W/m2K.

    Exact, by resistances in a row, for cylinders.

    >>> round(resistance_m_k_w(0.025, 0.0, 0.036, 10.0), 2)
    1.21
    """
    pipe_m = bore_m * (1.0 + 2.0 * WALL_SHARE)
    outer_m = pipe_m + 2.0 * insulation_m
    wall = math.log(pipe_m / bore_m) / (2.0 * math.pi * PLASTIC_W_M_K)
    wrap = math.log(outer_m / pipe_m) / (2.0 * math.pi * conductivity_w_m_k)
    found: float = wall + wrap + 1.0 / (math.pi * outer_m * film)
    return found


def litres_per_m(bore_m: float) -> float:
    """Water in a metre of pipe. Exact, by geometry."""
    return 1000.0 * math.pi / 4.0 * bore_m**2


@possible
def hours_to_zero(bore_m: float, resistance: float, water_c: float, air_c: float) -> float:
    """Hours until water that stands in a pipe is at 0 C; infinite in air that is not below it.

    Exact, by Newton's law of cooling; handbooks of refrigeration print it for pipes (from memory).

    >>> round(hours_to_zero(0.025, 1.21, 5.0, -10.0), 2)
    0.28
    """
    if air_c >= 0.0:
        return math.inf
    if water_c <= 0.0:
        return 0.0
    seconds = WATER_HEAT_J_L_K * litres_per_m(bore_m) * resistance * math.log((water_c - air_c) / -air_c)
    return seconds / SECONDS_PER_HOUR


@possible
def hours_to_ice(bore_m: float, resistance: float, air_c: float) -> float:
    """Hours from 0 C until the pipe is full of ice, its own ice not counted as insulation.

    Own reckoning, by heat balance.

    >>> round(hours_to_ice(0.025, 1.21, -10.0), 1)
    5.5
    """
    if air_c >= 0.0:
        return math.inf
    return ICE_MELT_J_KG * litres_per_m(bore_m) * resistance / -air_c / SECONDS_PER_HOUR


@possible
def flow_that_keeps_open_l_h(length_m: float, resistance: float, water_c: float, air_c: float) -> float:
    """Flow with which the water leaves the pipe at 0 C; none in air that is not below it.

    Exact, by heat balance along the pipe; infinite for water that begins at 0 C.

    >>> round(flow_that_keeps_open_l_h(10.0, 1.21, 5.0, -10.0), 1)
    17.6
    """
    if air_c >= 0.0:
        return 0.0
    if water_c <= 0.0:
        return math.inf
    l_s = length_m / (resistance * WATER_HEAT_J_L_K * math.log((water_c - air_c) / -air_c))
    return l_s * SECONDS_PER_HOUR
