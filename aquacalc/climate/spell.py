"""A hot or cold spell: how far the air alone moves the water of a tank, and how much ice holds it back."""

import math

from aquacalc.climate import tank
from aquacalc.constants import Numbers
from aquacalc.possible import possible

BARE_WALL = ((0.003,), (0.45,))
WRAPPED_WALL = ((0.003, 0.05), (0.45, 0.036))
"""Thickness (m) and conductivity (W/mK) of plastic, and of plastic with 5 cm of foam; from memory."""
ICE_MELT_J_KG = 333_600.0
"""Heat that melts ice, from memory."""
WATER_HEAT_J_KG_K = 4186.0
"""Specific heat of the melted ice, from memory."""


@possible
def loss_w_k(water_l: float, wrapped: bool) -> float:
    """Heat through all six sides of a cube of that much water, W for each degree.

    Own reckoning; the walls' conductivities are from memory.

    >>> round(loss_w_k(1000.0, False), 1), round(loss_w_k(1000.0, True), 1)
    (44.4, 3.9)
    """
    side_m = (water_l / 1000.0) ** (1.0 / 3.0)
    thickness_m, conductivity_w_m_k = WRAPPED_WALL if wrapped else BARE_WALL
    loss: float = 6.0 * side_m**2 * tank.wall_w_m2_k(thickness_m, conductivity_w_m_k)
    return loss


@possible
def time_constant_h(water_l: float, wrapped: bool) -> float:
    """Hours in which the difference to the air falls to 37 %. Own reckoning."""
    return float(tank.time_constant_h(tank.heat_capacity_j_k(water_l), loss_w_k(water_l, wrapped)))


@possible
def after_c(water_c: Numbers, air_c: Numbers, hours: Numbers, water_l: float, wrapped: bool) -> Numbers:
    """Temperature of the water after a spell of air of one temperature; sun and evaporation left out.

    Exact, by Newton's law of cooling.

    >>> round(float(after_c(24.0, 38.0, 10.0, 1000.0, False)), 1)
    28.5
    """
    return tank.temperature_after_c(water_c, air_c, time_constant_h(water_l, wrapped), hours)


@possible
def hours_to_c(water_c: float, line_c: float, air_c: float, water_l: float, wrapped: bool) -> float:
    """Hours until the water crosses a line; infinite where the air does not take it there.

    Exact, by Newton's law of cooling.

    >>> round(hours_to_c(24.0, 28.5, 38.0, 1000.0, False))
    10
    """
    if water_c == line_c:
        return 0.0
    left = (air_c - line_c) / (air_c - water_c) if air_c != water_c else 0.0
    if left > 1.0:  # the air leads away from the line
        return math.inf
    return -time_constant_h(water_l, wrapped) * math.log(left) if left > 0.0 else math.inf


@possible
def ice_kg(water_l: float, fall_k: float, to_c: float) -> float:
    """Ice at its melting point that cools the water by `fall_k` down to `to_c`, kg.

    Exact, by heat balance; the heat of melting is from memory.

    >>> round(ice_kg(1000.0, 2.0, 24.0))
    19
    """
    return water_l * tank.WATER_HEAT_J_L_K * fall_k / cold_of_ice_j_kg(to_c)


@possible
def cold_of_ice_j_kg(water_c: float) -> float:
    """Heat that a kilogram of melting ice takes from water of that temperature. From memory, as its parts."""
    return ICE_MELT_J_KG + WATER_HEAT_J_KG_K * water_c
