"""Litres and water surface of vessels from tape measurements, taken inside and up to the water line.

Lengths in m, litres in L, surfaces in m2; floats or arrays. Formulas are those of geometry and exact for
vessels of that shape; bulging walls, ribs and rounded corners are not counted.
"""

import math

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.possible import possible

LITRES_PER_M3 = 1000.0  # exact


@possible
def box_l(length_m: Numbers, width_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a vessel with upright walls and corners, L. Exact, by geometry.

    >>> box_l(1.2, 1.0, 0.25)
    300.0
    """
    return LITRES_PER_M3 * length_m * width_m * depth_m


@possible
def round_l(diameter_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a round vessel with upright walls, L. Exact, by geometry.

    >>> round(round_l(1.22, 0.60))
    701
    """
    return LITRES_PER_M3 * round_m2(diameter_m) * depth_m


@possible
def round_m2(diameter_m: Numbers) -> Numbers:
    """Surface of a round vessel, m2. Exact, by geometry."""
    return math.pi / 4.0 * diameter_m**2


@possible
def oval_l(length_m: Numbers, width_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in an oval vessel (an ellipse) with upright walls, L. Exact, by geometry.

    >>> round(oval_l(1.80, 0.90, 0.55))
    700
    """
    return LITRES_PER_M3 * oval_m2(length_m, width_m) * depth_m


@possible
def oval_m2(length_m: Numbers, width_m: Numbers) -> Numbers:
    """Surface of an oval vessel, m2. Exact, by geometry."""
    return math.pi / 4.0 * length_m * width_m


@possible
def trough_m2(length_m: Numbers, width_m: Numbers) -> Numbers:
    """Surface of a trough with straight sides and half-round ends, m2; length is the longer measure.

    Exact, by geometry.
    """
    return (length_m - width_m) * width_m + round_m2(width_m)


@possible
def trough_l(length_m: Numbers, width_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a trough with straight sides and half-round ends, walls upright, L. Exact, by geometry.

    >>> round(trough_l(1.80, 0.90, 0.55))
    795
    """
    return LITRES_PER_M3 * trough_m2(length_m, width_m) * depth_m


# Walls that lean outwards: all horizontal measures grow evenly from the floor to the rim.


@possible
def at_line_m(floor_m: Numbers, rim_m: Numbers, height_m: Numbers, depth_m: Numbers) -> Numbers:
    """A horizontal measure at the water line, from the same measure at floor and rim, m. Exact, by geometry.

    >>> round(at_line_m(1.0, 1.2, 0.8, 0.4), 3)
    1.1
    """
    return floor_m + (rim_m - floor_m) * depth_m / height_m


@possible
def tapered_l(
    length_m: Numbers, width_m: Numbers, top_length_m: Numbers, top_width_m: Numbers, depth_m: Numbers
) -> Numbers:
    """Water in a rectangular vessel whose walls lean, as totes have them, L.

    length_m, width_m: at the floor. top_length_m, top_width_m: at the water line (`at_line_m` finds them
    from the rim). Exact, by geometry.

    >>> round(tapered_l(1.0, 0.8, 1.1, 0.9, 0.5), 1)
    446.7
    """
    longer, wider = top_length_m - length_m, top_width_m - width_m
    mean_m2 = length_m * width_m + (length_m * wider + width_m * longer) / 2.0 + longer * wider / 3.0
    return LITRES_PER_M3 * mean_m2 * depth_m


@possible
def round_tapered_l(diameter_m: Numbers, top_diameter_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a round vessel that widens from the floor to the water line, L. Exact, by geometry.

    >>> round(round_tapered_l(0.5, 0.6, 0.4), 1)
    95.3
    """
    mean_square = (diameter_m**2 + diameter_m * top_diameter_m + top_diameter_m**2) / 3.0
    return LITRES_PER_M3 * math.pi / 4.0 * mean_square * depth_m


# A barrel on its side


@possible
def lying_cylinder_l(diameter_m: Numbers, length_m: Numbers, depth_m: Numbers) -> Numbers:
    """Water in a barrel that lies on its side, L; full from a depth of its diameter on. Exact, by geometry.

    >>> round(float(lying_cylinder_l(0.58, 0.88, 0.29)), 1)
    116.3
    """
    radius = diameter_m / 2.0
    above = radius - _within(depth_m, diameter_m)  # from the water up to the axis
    segment = radius**2 * np.arccos(above / radius) - above * _half_chord(radius, above)
    return LITRES_PER_M3 * segment * length_m


@possible
def lying_cylinder_m2(diameter_m: Numbers, length_m: Numbers, depth_m: Numbers) -> Numbers:
    """Surface of the water in a barrel that lies on its side, m2; widest when half full.

    Exact, by geometry.
    """
    radius = diameter_m / 2.0
    return 2.0 * _half_chord(radius, radius - _within(depth_m, diameter_m)) * length_m


def _half_chord(radius_m: Numbers, above_m: Numbers) -> Numbers:
    return np.sqrt(np.maximum(radius_m**2 - above_m**2, 0.0))


def _within(depth_m: Numbers, height_m: Numbers) -> Numbers:
    return np.minimum(np.maximum(depth_m, 0.0), height_m)


# A cone under an upright wall


@possible
def cone_bottom_l(diameter_m: Numbers, cone_m: Numbers, depth_m: Numbers, drain_m: Numbers = 0.0) -> Numbers:
    """Water in a round vessel with a cone for a floor, L.

    cone_m: height of the cone. depth_m: of the water over the lowest point. drain_m: diameter of the flat
    middle of the cone. Exact, by geometry.

    >>> round(float(cone_bottom_l(1.0, 0.3, 0.8)), 1)
    471.2
    """
    in_cone = _within(depth_m, cone_m)
    top = at_line_m(drain_m, diameter_m, cone_m, in_cone)
    return round_tapered_l(drain_m, top, in_cone) + round_l(diameter_m, np.maximum(depth_m - cone_m, 0.0))


@possible
def cone_bottom_m2(diameter_m: Numbers, cone_m: Numbers, depth_m: Numbers, drain_m: Numbers = 0.0) -> Numbers:
    """Surface of the water in a vessel with a cone for a floor, m2. Exact, by geometry."""
    return round_m2(at_line_m(drain_m, diameter_m, cone_m, _within(depth_m, cone_m)))
