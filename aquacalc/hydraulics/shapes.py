"""Litres of a vessel from tape measurements, taken inside and up to the water line."""

import math

from aquacalc.constants import Numbers

LITRES_PER_M3 = 1000.0  # exact


def box_l(length_m: Numbers, width_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a vessel with upright walls and corners, L.

    >>> box_l(1.2, 1.0, 0.25)
    300.0
    """
    return LITRES_PER_M3 * length_m * width_m * depth_m


def round_l(diameter_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a round vessel with upright walls, L.

    >>> round(round_l(1.22, 0.60))
    701
    """
    return LITRES_PER_M3 * math.pi / 4.0 * diameter_m**2 * depth_m
