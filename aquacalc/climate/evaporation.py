"""Water vapour, reference evapotranspiration, and evaporation of open water.

Vapour pressure in kPa, wind in m/s, radiation in MJ/m2/d, water in mm/d, which is L/m2/d.
Source of the equations: FAO Irrigation and Drainage Paper 56 (from memory, its worked examples recomputed).
"""

from dataclasses import dataclass

import numpy as np

from aquacalc.constants import SECONDS_PER_DAY, Numbers
from aquacalc.possible import possible

CROP_ALBEDO = 0.23  # FAO 56, the reference grass
WATER_ALBEDO = 0.08  # open water (from memory)
STEFAN_BOLTZMANN_MJ_M2_D_K4 = 4.903e-9  # FAO 56, eq. 39
FAO_KELVIN_0_C = 273.16  # FAO 56, eq. 39, as printed there
OPEN_WATER_COEFFICIENT = 1.05  # FAO 56, Table 12, open water under 2 m deep


@possible
def saturation_pressure_kpa(temperature_c: Numbers) -> Numbers:
    """Vapour pressure over water at saturation, kPa.

    Source: FAO56, eq. 11 (from memory); within 0.2 % for 0 to 40 C.

    >>> round(float(saturation_pressure_kpa(20.0)), 3)
    2.338
    """
    return 0.6108 * np.exp(17.27 * temperature_c / (temperature_c + 237.3))


@possible
def saturation_slope_kpa_k(temperature_c: Numbers) -> Numbers:
    """Slope of the saturation curve, kPa/K. Source: FAO56, eq. 13 (from memory); 0 to 40 C."""
    return 4098.0 * saturation_pressure_kpa(temperature_c) / (temperature_c + 237.3) ** 2


@possible
def vapour_pressure_kpa(
    air_max_c: Numbers, air_min_c: Numbers, humidity_max_pct: Numbers, humidity_min_pct: Numbers
) -> Numbers:
    """Vapour pressure of the air from the day's extremes of temperature and humidity.

    Source: FAO56, eq. 17 (from memory).
    """
    warm, cold = saturation_pressure_kpa(air_max_c), saturation_pressure_kpa(air_min_c)
    return (cold * humidity_max_pct + warm * humidity_min_pct) / 200.0


@possible
def psychrometric_kpa_k(altitude_m: Numbers = 0.0) -> Numbers:
    """Psychrometric constant, kPa/K. Source: FAO56, eq. 7 and 8 (from memory).

    >>> round(psychrometric_kpa_k(0.0), 4)
    0.0674
    """
    pressure_kpa = 101.3 * ((293.0 - 0.0065 * altitude_m) / 293.0) ** 5.26
    return 0.665e-3 * pressure_kpa


@possible
def wind_at_2_m(wind_m_s: Numbers, height_m: Numbers) -> Numbers:
    """Wind at 2 m from wind at another height; airports measure at 10 m. Source: FAO56, eq. 47 (from memory).

    >>> round(float(wind_at_2_m(3.2, 10.0)), 1)
    2.4
    """
    return wind_m_s * 4.87 / np.log(67.8 * height_m - 5.42)


@dataclass(frozen=True)
class Day:
    """The air of a day, or of a month taken as a mean day; numbers or arrays.

    vapour_kpa: actual vapour pressure; None takes the air as saturated at the night's minimum.
    """

    air_max_c: Numbers
    air_min_c: Numbers
    wind_2m_m_s: Numbers = 2.0
    vapour_kpa: Numbers | None = None

    @property
    def mean_c(self) -> Numbers:
        """Middle of the extremes."""
        return (self.air_max_c + self.air_min_c) / 2.0

    @property
    def actual_vapour_kpa(self) -> Numbers:
        """Vapour pressure as given, else that of the night's minimum. FAO 56, eq. 48."""
        return saturation_pressure_kpa(self.air_min_c) if self.vapour_kpa is None else self.vapour_kpa


@possible
def net_radiation(
    day: Day, radiation_mj_m2_d: Numbers, clear_sky_mj_m2_d: Numbers, albedo: Numbers = CROP_ALBEDO
) -> Numbers:
    """Radiation kept by the surface, MJ/m2/d: sunlight in, long waves out.

    Source: FAO56, eq. 38 to 40 (from memory).
    """
    warm, cold = day.air_max_c + FAO_KELVIN_0_C, day.air_min_c + FAO_KELVIN_0_C
    clearness = np.minimum(1.0, radiation_mj_m2_d / clear_sky_mj_m2_d)
    outgoing = (
        STEFAN_BOLTZMANN_MJ_M2_D_K4
        * (warm**4 + cold**4)
        / 2.0
        * (0.34 - 0.14 * day.actual_vapour_kpa**0.5)
        * (1.35 * clearness - 0.35)
    )
    return (1.0 - albedo) * radiation_mj_m2_d - outgoing


@possible
def et0_penman_monteith(
    day: Day, net_radiation_mj_m2_d: Numbers, altitude_m: Numbers = 0.0, soil_heat_mj_m2_d: Numbers = 0.0
) -> Numbers:
    """Reference evapotranspiration (ET0), mm/d. Source: FAO56, eq. 6 (from memory).

    >>> april = Day(34.8, 25.6, wind_2m_m_s=2.0, vapour_kpa=2.85)
    >>> round(float(et0_penman_monteith(april, 14.33, altitude_m=2.0, soil_heat_mj_m2_d=0.14)), 1)
    5.7
    """
    slope = saturation_slope_kpa_k(day.mean_c)
    gamma = psychrometric_kpa_k(altitude_m)
    saturated = (saturation_pressure_kpa(day.air_max_c) + saturation_pressure_kpa(day.air_min_c)) / 2.0
    by_sun = 0.408 * slope * (net_radiation_mj_m2_d - soil_heat_mj_m2_d)
    by_wind = gamma * 900.0 / (day.mean_c + 273.0) * day.wind_2m_m_s * (saturated - day.actual_vapour_kpa)
    return (by_sun + by_wind) / (slope + gamma * (1.0 + 0.34 * day.wind_2m_m_s))


@possible
def et0_hargreaves(air_max_c: Numbers, air_min_c: Numbers, extraterrestrial_mj_m2_d: Numbers) -> Numbers:
    """Reference evapotranspiration (ET0), mm/d, from temperature alone. Source: FAO56, eq. 52 (from memory).

    About 20 % either way on a month; high on humid coasts, low in wind over 3 m/s.

    >>> round(float(et0_hargreaves(26.6, 14.8, 40.6)), 1)
    5.0
    """
    mean_c = (air_max_c + air_min_c) / 2.0
    span = np.maximum(air_max_c - air_min_c, 0.0)
    return np.maximum(0.0023 * (mean_c + 17.8) * span**0.5 * extraterrestrial_mj_m2_d * 0.408, 0.0)


@possible
def open_water_evaporation_mm_d(
    temperature_c: Numbers,
    humidity_pct: Numbers,
    net_radiation_mj_m2_d: Numbers,
    wind_m_s: Numbers,
    altitude_m: Numbers = 0.0,
) -> Numbers:
    """Evaporation of open water outdoors, mm/d, by Penman's equation with his wind function of 1948.

    Net radiation with the albedo of water (0.08). Source: PENMAN48 (from memory).

    >>> round(float(open_water_evaporation_mm_d(25.0, 50.0, 17.45, 2.0)), 1)
    7.5
    """
    slope = saturation_slope_kpa_k(temperature_c)
    gamma = psychrometric_kpa_k(altitude_m)
    deficit = saturation_pressure_kpa(temperature_c) * (1.0 - humidity_pct / 100.0)
    latent_mj_kg = 2.501 - 0.00236 * temperature_c
    by_sun = slope * net_radiation_mj_m2_d
    by_wind = gamma * 6.43 * (1.0 + 0.536 * wind_m_s) * deficit
    return (by_sun + by_wind) / ((slope + gamma) * latent_mj_kg)


@possible
def surface_evaporation_l_d(
    area_m2: Numbers,
    water_c: Numbers,
    air_c: Numbers,
    humidity_pct: Numbers,
    wind_m_s: Numbers = 0.1,
    activity: Numbers = 0.5,
) -> Numbers:
    """Evaporation of a tank's surface, L/d, from the vapour pressures of water and air; wind at the surface.

    `activity`: covered 0.05, quiet 0.5, flowing 0.8, strongly aerated 1.0 to 1.5; the range is a factor of 2.
    Never below zero: dew is not counted. Source: pool equation of the ASHRAE handbook (from memory).

    >>> round(float(surface_evaporation_l_d(1.0, 22.0, 20.0, 60.0)), 2)
    2.12
    """
    latent_kj_kg = 2501.0 - 2.361 * water_c
    deficit = saturation_pressure_kpa(water_c) - humidity_pct / 100.0 * saturation_pressure_kpa(air_c)
    kg_s = area_m2 * (0.089 + 0.0782 * wind_m_s) * np.maximum(deficit, 0.0) / latent_kj_kg * activity
    return kg_s * SECONDS_PER_DAY


@possible
def crop_water_l_d(area_m2: Numbers, coefficient: Numbers, et0_mm_d: Numbers) -> Numbers:
    """Water of a planted or open surface, L/d: area times coefficient times ET0; open water has 1.05.

    Source: FAO56 (from memory).

    >>> crop_water_l_d(4.0, 1.0, 4.0)
    16.0
    """
    return area_m2 * coefficient * et0_mm_d
