"""Water, air and light of a garden by month, as the balance takes them.

The formulas stand in `garden.surroundings`, where the schedule takes them from as well.
"""

from aquacalc.garden.surroundings import (
    CALM_WIND_M_S,
    COEFFICIENTS,
    SHADE_LIGHT,
    air_c,
    growing_air_c,
    light_mol_m2_d,
    radiation_mj_m2_d,
    water_c,
)

__all__ = [
    "CALM_WIND_M_S",
    "COEFFICIENTS",
    "SHADE_LIGHT",
    "air_c",
    "growing_air_c",
    "light_mol_m2_d",
    "radiation_mj_m2_d",
    "water_c",
]
