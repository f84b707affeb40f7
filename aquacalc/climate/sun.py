"""Day length, radiation above and below the air, light for plants.

Days of the year run 0 to 364, the first of January first. Southern latitudes are negative.
Radiation in MJ/m2/d. Source of the equations: FAO Irrigation and Drainage Paper 56 (from memory, its
worked examples recomputed).
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.constants import Numbers
from aquacalc.possible import possible

Floats = NDArray[np.float64]

SOLAR_CONSTANT_MJ_M2_MIN = 0.0820  # FAO 56, eq. 21
W_M2_PER_MJ_M2_D = 1e6 / 86400.0  # exact
RADIATION_COEFFICIENT_INLAND = 0.16  # FAO 56, eq. 50
RADIATION_COEFFICIENT_COAST = 0.19  # FAO 56, eq. 50


def _angles(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> tuple[Floats, Floats, Floats, Floats]:
    """Latitude, declination and sunset angle in radians; relative distance of the sun."""
    turn = 2.0 * np.pi * (np.asarray(day_of_year, dtype=np.float64) + 1.0) / 365.0
    latitude = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    declination = 0.409 * np.sin(turn - 1.39)
    sunset = np.arccos(np.clip(-np.tan(latitude) * np.tan(declination), -1.0, 1.0))
    return latitude, declination, sunset, 1.0 + 0.033 * np.cos(turn)


@possible
def day_length_h(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> Floats:
    """Hours from sunrise to sunset; 0 in the polar night and 24 in the polar day.

    Source: FAO56, eq. 34 (from memory).

    >>> round(float(day_length_h(-20.0, 245)), 1)
    11.7
    """
    _, _, sunset, _ = _angles(latitude_deg, day_of_year)
    hours: Floats = 24.0 / np.pi * sunset
    return hours


@possible
def extraterrestrial_mj_m2_d(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> Floats:
    """Radiation on a level surface above the air, MJ/m2/d. Source: FAO56, eq. 21 (from memory).

    >>> round(float(extraterrestrial_mj_m2_d(-20.0, 245)), 1)
    32.2
    """
    latitude, declination, sunset, distance = _angles(latitude_deg, day_of_year)
    height = sunset * np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(
        declination
    ) * np.sin(sunset)
    radiation: Floats = np.maximum(24.0 * 60.0 / np.pi * SOLAR_CONSTANT_MJ_M2_MIN * distance * height, 0.0)
    return radiation


@possible
def clear_sky_mj_m2_d(extraterrestrial_mj_m2_d: Numbers, altitude_m: Numbers = 0.0) -> Numbers:
    """Radiation at the ground under a clear sky. Source: FAO56, eq. 37 (from memory)."""
    return (0.75 + 2e-5 * altitude_m) * extraterrestrial_mj_m2_d


def radiation_from_sunshine(
    sunshine_h: Numbers, day_length_h: Numbers, extraterrestrial_mj_m2_d: Numbers
) -> Numbers:
    """Radiation at the ground from hours of bright sunshine. Source: FAO56, eq. 35 (from memory).

    >>> radiation_from_sunshine(6.0, 12.0, 40.0)
    20.0
    """
    return (0.25 + 0.50 * sunshine_h / day_length_h) * extraterrestrial_mj_m2_d


@possible
def radiation_from_temperature(
    air_max_c: Numbers,
    air_min_c: Numbers,
    extraterrestrial_mj_m2_d: Numbers,
    coefficient: Numbers = RADIATION_COEFFICIENT_INLAND,
) -> Numbers:
    """Radiation at the ground from the daily temperature range; coefficient 0.16 inland, 0.19 at a coast.

    Never more than three quarters of the radiation above the air. Source: FAO56, eq. 50 (from memory).

    >>> round(float(radiation_from_temperature(26.6, 14.8, 40.6)), 1)
    22.3
    """
    share = coefficient * np.sqrt(np.maximum(air_max_c - air_min_c, 0.0))
    return np.minimum(share, 0.75) * extraterrestrial_mj_m2_d


def daily_light_mol_m2_d(
    radiation_mj_m2_d: Numbers, mol_per_mj: Numbers, transmission: Numbers = 1.0
) -> Numbers:
    """Daily light integral (DLI), mol/m2/d, from radiation; a greenhouse lets through about 0.6.

    mol_per_mj: photosynthetic photons per MJ of sunlight, 1.9 to 2.2.
    Cover: OSUBERRY (read); photons from memory.

    >>> round(daily_light_mol_m2_d(22.47, 2.057), 1)
    46.2
    """
    return mol_per_mj * radiation_mj_m2_d * transmission


def lamp_light_mol_m2_d(ppfd_umol_m2_s: Numbers, hours: Numbers) -> Numbers:
    """Daily light integral of lamps, mol/m2/d. By definition.

    >>> round(lamp_light_mol_m2_d(200.0, 14.0), 2)
    10.08
    """
    return ppfd_umol_m2_s * hours * 0.0036
