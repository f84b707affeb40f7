"""Weight of water and beds on what carries them. Numbers only: whether a floor bears it, an engineer says."""

from aquacalc.constants import STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.possible import possible

WATER_DENSITY_KG_M3 = 1000.0  # for loads, where a per mille does not matter


@possible
def water_load_kpa(depth_m: Numbers) -> Numbers:
    """Pressure of standing water on its floor, kPa. A floor of a dwelling is made for about 1.5 (read).

    Exact, by hydrostatics; dwelling floors: FLOORS (read).

    >>> round(water_load_kpa(0.153), 2)
    1.5
    """
    return WATER_DENSITY_KG_M3 * STANDARD_GRAVITY_M_S2 * depth_m / 1000.0


@possible
def bed_load_kg_m2(
    depth_m: Numbers,
    medium_kg_m3: Numbers,
    void_fraction: Numbers,
    wetted_m: Numbers,
    box_kg_m2: Numbers,
    absorbed_fraction: Numbers = 0.0,
) -> Numbers:
    """Mass of a flooded media bed on its floor, kg/m2; `absorbed_fraction` of the dry mass soaks into clay.

    Own reckoning, by weight.

    >>> round(bed_load_kg_m2(0.30, 1600.0, 0.40, 0.27, 15.0), 1)
    603.0
    """
    medium = depth_m * medium_kg_m3 * (1.0 + absorbed_fraction)
    return medium + void_fraction * wetted_m * WATER_DENSITY_KG_M3 + box_kg_m2


def load_kpa(mass_kg_m2: Numbers) -> Numbers:
    """Pressure of a mass spread over a square metre, kPa. Above 1.5 indoors or on a deck ask an engineer.

    By definition; the 1.5 is a design load of FLOORS (read).

    >>> round(load_kpa(603.0), 2)
    5.91
    """
    return mass_kg_m2 * STANDARD_GRAVITY_M_S2 / 1000.0


@possible
def wall_thrust_kn_m(depth_m: Numbers) -> Numbers:
    """Thrust of water on a metre of wall, kN/m with water 1000 kg/m3; boards over 0.3 m deep need ties.

    Exact, by hydrostatics; from which depth boards need ties is common practice, no source.

    >>> round(wall_thrust_kn_m(1.0), 2)
    4.9
    """
    return 0.5 * WATER_DENSITY_KG_M3 * STANDARD_GRAVITY_M_S2 * depth_m**2 / 1000.0
