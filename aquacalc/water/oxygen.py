"""Dissolved oxygen in equilibrium with moist air, and the pressure of the air at an altitude."""

import numpy as np

from aquacalc.constants import (
    GAS_CONSTANT_J_MOL_K,
    KELVIN_0_C,
    MOLAR_MASS_O2_G_MOL,
    OXYGEN_IN_DRY_AIR,
    STANDARD_ATMOSPHERE_KPA,
    Numbers,
)
from aquacalc.possible import possible


@possible
def pressure_kpa(altitude_m: Numbers) -> Numbers:
    """Air pressure of the standard atmosphere at an altitude, kPa. Weather moves it by 3 % either way.

    Altitude in m above sea level, valid 0 to 11 000. A weather report's pressure is reduced to sea level
    and must not be used instead. Source: ISO2533 (from memory).

    >>> round(pressure_kpa(1500.0), 2)
    84.56
    """
    return STANDARD_ATMOSPHERE_KPA * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588


@possible
def pressure_atm(altitude_m: Numbers) -> Numbers:
    """Air pressure at an altitude as a share of one standard atmosphere; see `pressure_kpa`.

    Source: as `pressure_kpa`.
    """
    return pressure_kpa(altitude_m) / STANDARD_ATMOSPHERE_KPA


@possible
def saturation_mg_l(
    temperature_c: Numbers, salinity_g_kg: Numbers = 0.0, pressure_atm: Numbers = 1.0
) -> Numbers:
    """Oxygen that water holds in equilibrium with moist air, mg/L.

    Valid for 0 to 40 C, salinity 0 to 40 g/kg, pressure 0.5 to 1.1 atm (of the place, see `pressure_atm`).
    Source: BENKRA84, eq. 32, as in STDMETH (read-2nd).

    >>> round(float(saturation_mg_l(20.0)), 2)
    9.09
    """
    kelvin = temperature_c + KELVIN_0_C
    at_one_atm = np.exp(
        -139.34411
        + 1.575701e5 / kelvin
        - 6.642308e7 / kelvin**2
        + 1.243800e10 / kelvin**3
        - 8.621949e11 / kelvin**4
        - salinity_g_kg * (0.017674 - 10.754 / kelvin + 2140.7 / kelvin**2)
    )
    vapour_atm = np.exp(11.8571 - 3840.70 / kelvin - 216961.0 / kelvin**2)
    second_virial = 0.000975 - 1.426e-5 * temperature_c + 6.436e-8 * temperature_c**2
    return (
        at_one_atm
        * (pressure_atm - vapour_atm)
        * (1.0 - second_virial * pressure_atm)
        / ((1.0 - vapour_atm) * (1.0 - second_virial))
    )


@possible
def percent(
    oxygen_mg_l: Numbers, temperature_c: Numbers, salinity_g_kg: Numbers = 0.0, pressure_atm: Numbers = 1.0
) -> Numbers:
    """Oxygen as percent of saturation at the place's own pressure; validity as `saturation_mg_l`.

    By definition.

    >>> round(float(percent(6.0, 28.0)), 1)
    76.7
    """
    return 100.0 * oxygen_mg_l / saturation_mg_l(temperature_c, salinity_g_kg, pressure_atm)


@possible
def in_air_kg_m3(temperature_c: Numbers, pressure_atm: Numbers = 1.0) -> Numbers:
    """Oxygen in a cubic metre of dry air, kg/m3, by the ideal gas law.

    Exact, by the ideal gas law; the share of oxygen is from memory.

    >>> round(in_air_kg_m3(20.0), 4)
    0.2786
    """
    air_mol_m3 = (
        1000.0
        * STANDARD_ATMOSPHERE_KPA
        * pressure_atm
        / (GAS_CONSTANT_J_MOL_K * (temperature_c + KELVIN_0_C))
    )
    return OXYGEN_IN_DRY_AIR * MOLAR_MASS_O2_G_MOL / 1000.0 * air_mol_m3
