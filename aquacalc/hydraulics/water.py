"""Density and viscosity of fresh water."""

from aquacalc.constants import KELVIN_0_C, Numbers
from aquacalc.possible import possible


@possible
def density_kg_m3(temperature_c: Numbers) -> Numbers:
    """Density of fresh water, kg/m3; within 0.03 of IAPWS-95 for 0 to 35 C (form from memory).

    >>> round(density_kg_m3(20.0), 1)
    998.2
    """
    return 1000.0 * (
        1.0
        - (temperature_c + 288.9414) * (temperature_c - 3.9863) ** 2 / (508929.2 * (temperature_c + 68.12963))
    )


@possible
def viscosity_pa_s(temperature_c: Numbers) -> Numbers:
    """Dynamic viscosity, Pa s; within 0.5 % from 10 C, 1.1 % low at 5 C (form from memory).

    >>> round(1000.0 * viscosity_pa_s(20.0), 3)
    1.002
    """
    return 2.414e-5 * 10.0 ** (247.8 / (temperature_c + KELVIN_0_C - 140.0))
