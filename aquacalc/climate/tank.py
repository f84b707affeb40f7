"""Heat of a tank: how its water follows the air, and what a heater has to give.

Heat in W, per m2 of water surface where the name says so; wind in m/s at the surface, not at a mast.
Sources: surface and wall coefficients from memory (heat-transfer texts); long waves FAO 56.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc.climate.evaporation import (
    WATER_ALBEDO,
    psychrometric_kpa_k,
    saturation_pressure_kpa,
    saturation_slope_kpa_k,
)
from aquacalc.constants import JOULES_PER_WH, KELVIN_0_C, STEFAN_BOLTZMANN_W_M2_K4, Numbers
from aquacalc.possible import possible

Cover = Literal["open", "shade", "greenhouse", "indoors"]

EMISSIVITY = 0.97  # water, any heat-transfer text (from memory)
WATER_HEAT_J_L_K = 4167.0  # density times specific heat near 25 C
STONE_HEAT_J_KG_K = 840.0  # stone or clay (from memory)
INNER_FILM_W_M2_K = 300.0  # water to wall (from memory)
OUTER_FILM_W_M2_K = 8.0  # wall to still air; 15 to 20 in wind (from memory)
USUAL_WALLS_W_M2_K = 20.0
"""Heat through walls, pipes and beds per m2 of open water where nobody knows better (from memory)."""
FREEZING_NOTICE_C = 3.0  # pipes and siphons may freeze below it (common practice, no source)

_COLDEST_C = -20.0
_WARMEST_C = 70.0
_HALVINGS = 40


# The surface


@possible
def convection_w_m2_k(wind_m_s: Numbers) -> Numbers:
    """Heat carried by moving air per degree; 0.1 m/s indoors. Heat-transfer texts, from memory."""
    return 2.8 + 3.0 * wind_m_s


@possible
def radiation_coefficient_w_m2_k(air_c: Numbers) -> Numbers:
    """Heat exchanged by long waves with surroundings as warm as the air, per degree.

    Exact, by the Stefan-Boltzmann law; the emissivity is from memory.
    """
    return 4.0 * EMISSIVITY * STEFAN_BOLTZMANN_W_M2_K4 * (air_c + KELVIN_0_C) ** 3


@possible
def net_longwave_w_m2(air_c: Numbers, vapour_kpa: Numbers) -> Numbers:
    """Long-wave loss of a level surface at air temperature to a clear sky.

    Source: FAO56, eq. 39 (from memory).
    """
    return STEFAN_BOLTZMANN_W_M2_K4 * (air_c + KELVIN_0_C) ** 4 * (0.34 - 0.14 * vapour_kpa**0.5)


@dataclass(frozen=True)
class HeatBalance:
    """What gives heat to water and takes it, per m2 of water surface; numbers or arrays.

    gained_w_m2: whatever the water's own temperature; dry_w_m2_k: heat exchanged with the air by degree;
    wet_w_m2_kpa: heat that evaporation takes for each kPa of vapour pressure.
    """

    gained_w_m2: Numbers
    dry_w_m2_k: Numbers
    wet_w_m2_kpa: Numbers
    air_c: Numbers
    vapour_kpa: Numbers

    def net_w_m2(self, water_c: Numbers) -> Numbers:
        """Heat that the water keeps; it falls steadily as the water gets warmer. By definition."""
        lost = self.wet_w_m2_kpa * (saturation_pressure_kpa(water_c) - self.vapour_kpa)
        return self.gained_w_m2 - self.dry_w_m2_k * (water_c - self.air_c) - lost

    def loss_w_m2_k(self, water_c: Numbers) -> Numbers:
        """By how much that falls with each degree. By definition."""
        return self.dry_w_m2_k + self.wet_w_m2_kpa * saturation_slope_kpa_k(water_c)

    def settled_c(self) -> Numbers:
        """Where nothing is kept and nothing lost. The root always lies between the ends."""
        low: Numbers = _COLDEST_C + 0.0 * (self.gained_w_m2 + self.dry_w_m2_k + self.wet_w_m2_kpa)
        width = _WARMEST_C - _COLDEST_C
        for _ in range(_HALVINGS):
            width /= 2.0
            low = low + width * (self.net_w_m2(low + width) > 0.0)
        return low + width / 2.0


@possible
def heat_balance(
    air_c: Numbers,
    humidity_pct: Numbers,
    wind_m_s: Numbers,
    radiation_w_m2: Numbers,
    *,
    sky_share: Numbers = 0.0,
    walls_w_m2_k: Numbers = USUAL_WALLS_W_M2_K,
    wetness: Numbers = 1.0,
    gain_w_m2: Numbers = 0.0,
    lid_m2_k_w: Numbers = 0.0,
) -> HeatBalance:
    """The balance of a water surface and what hangs on it.

    radiation_w_m2: sunlight on the water, daily mean. sky_share: 0 under a roof, 0.3 in shade, 0.8 to 1 in
    the open. walls_w_m2_k: heat through walls, pipes and beds per m2 of water surface and degree.
    wetness: evaporation against a quiet surface; 2 strongly aerated, 0.05 to 0.1 covered.
    gain_w_m2: pump, heater, fish, per m2 of water surface. lid_m2_k_w: resistance of a lid, thickness over
    conductivity; it lies before the air and the long waves. Valid from about 0 to 45 C; water that settles
    below zero means ice and is not cut off. Own reckoning, by heat balance; the coefficients are from memory.

    >>> round(float(heat_balance(20.0, 50.0, 0.1, 0.0).settled_c()), 1)
    18.5
    """
    vapour_kpa = humidity_pct / 100.0 * saturation_pressure_kpa(air_c)
    gained = (
        (1.0 - WATER_ALBEDO) * radiation_w_m2 - sky_share * net_longwave_w_m2(air_c, vapour_kpa) + gain_w_m2
    )
    convection = convection_w_m2_k(wind_m_s)
    bare = radiation_coefficient_w_m2_k(air_c) + convection
    return HeatBalance(
        gained_w_m2=gained,
        dry_w_m2_k=bare / (1.0 + bare * lid_m2_k_w) + walls_w_m2_k,
        wet_w_m2_kpa=wetness * convection / psychrometric_kpa_k(),
        air_c=air_c,
        vapour_kpa=vapour_kpa,
    )


# Walls, time, heater


def wall_w_m2_k(
    thickness_m: tuple[float, ...],
    conductivity_w_m_k: tuple[float, ...],
    outer_film_w_m2_k: float = OUTER_FILM_W_M2_K,
) -> float:
    """Heat through a wall of layers, W/m2K. Exact, by resistances in a row; the films are from memory.

    >>> round(wall_w_m2_k((0.003,), (0.45,)), 2), round(wall_w_m2_k((0.003, 0.05), (0.45, 0.036)), 3)
    (7.41, 0.656)
    """
    layers = sum(t / k for t, k in zip(thickness_m, conductivity_w_m_k, strict=True))
    return 1.0 / (1.0 / INNER_FILM_W_M2_K + layers + 1.0 / outer_film_w_m2_k)


@possible
def heat_capacity_j_k(water_l: Numbers, stone_kg: Numbers = 0.0) -> Numbers:
    """Heat that warms the water, and stone or clay in it, by one degree, J/K.

    By definition; the specific heats are from memory.
    """
    return water_l * WATER_HEAT_J_L_K + stone_kg * STONE_HEAT_J_KG_K


def time_constant_h(capacity_j_k: Numbers, loss_w_k: Numbers) -> Numbers:
    """Hours in which a difference to the air falls to 37 %. By definition.

    >>> round(time_constant_h(heat_capacity_j_k(1000.0), 44.83), 1)
    25.8
    """
    return capacity_j_k / loss_w_k / JOULES_PER_WH


def damping(time_constant_h: Numbers, period_h: Numbers = 24.0) -> Numbers:
    """Swing of the water as a share of the swing of the air, 0 to 1. Exact, by a first-order lag.

    >>> round(damping(24.0), 4)
    0.1572
    """
    return (1.0 + (2.0 * math.pi * time_constant_h / period_h) ** 2) ** -0.5


def lag_h(time_constant_h: Numbers, period_h: Numbers = 24.0) -> Numbers:
    """Hours by which the water's swing follows that of the air. Exact, by a first-order lag.

    >>> round(float(lag_h(24.0)), 1)
    5.4
    """
    return np.arctan(2.0 * math.pi * time_constant_h / period_h) * period_h / (2.0 * math.pi)


def temperature_after_c(
    start_c: Numbers, end_c: Numbers, time_constant_h: Numbers, hours: Numbers
) -> Numbers:
    """Temperature on its way from `start_c` to the `end_c` that it would settle to.

    Exact, by Newton's law of cooling.

    >>> round(float(temperature_after_c(25.0, 10.0, 25.0, 12.0)), 1)
    19.3
    """
    return end_c + (start_c - end_c) * np.exp(-hours / time_constant_h)


def heater_w(loss_w_k: Numbers, setpoint_c: Numbers, equilibrium_c: Numbers) -> Numbers:
    """Mean heat that holds a set point, W; nothing where the water is warmer by itself.

    Exact, by heat balance.

    >>> float(heater_w(44.8, 22.0, 12.0))
    448.0
    """
    return loss_w_k * np.maximum(setpoint_c - equilibrium_c, 0.0)


def warming_wh(capacity_j_k: Numbers, rise_k: Numbers) -> Numbers:
    """Energy that warms the water once, losses left out, Wh. By definition.

    >>> round(warming_wh(heat_capacity_j_k(1000.0), 10.0))
    11575
    """
    return capacity_j_k * rise_k / JOULES_PER_WH


# Months


@dataclass(frozen=True)
class Exposure:
    """What a tank's place lets through: shares of sunlight, sky and wind at 2 m, and the least wind.

    Common practice, no source, but for the sky shares, which stand with the balance.
    """

    sun_share: float
    sky_share: float
    wind_share: float
    least_wind_m_s: float


EXPOSURES: dict[Cover, Exposure] = {
    "open": Exposure(sun_share=1.0, sky_share=0.9, wind_share=0.5, least_wind_m_s=0.3),
    "shade": Exposure(sun_share=0.2, sky_share=0.3, wind_share=0.3, least_wind_m_s=0.2),
    "greenhouse": Exposure(sun_share=0.6, sky_share=0.0, wind_share=0.0, least_wind_m_s=0.1),
    "indoors": Exposure(sun_share=0.0, sky_share=0.0, wind_share=0.0, least_wind_m_s=0.1),
}
LID_SUN_SHARE = 0.2


@possible
def from_readings(air_c: Numbers, water_c: Numbers) -> tuple[float, float, float]:
    """Line through ten or more pairs of readings (air as a seven-day mean): intercept, slope, spread in K.

    The spread is the standard deviation of what the line leaves over. Exact, by least squares.

    >>> air = np.array([5.0, 10.0, 15.0, 20.0])
    >>> [round(v, 6) for v in from_readings(air, 2.0 + 0.9 * air)]
    [2.0, 0.9, 0.0]
    """
    air, water = np.asarray(air_c, dtype=np.float64), np.asarray(water_c, dtype=np.float64)
    slope, intercept = np.polyfit(air, water, 1)
    left_over = water - intercept - slope * air
    return float(intercept), float(slope), float(np.sqrt(np.sum(left_over**2) / (air.size - 2)))
