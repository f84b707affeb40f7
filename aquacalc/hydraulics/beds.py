"""Flood-and-drain beds: their water, fill and drain times, siphons; and the sump that takes it all.

Lengths in m, areas in m2, flow in L/h, volumes in L. `void_fraction` is the drainable share of the medium.
The siphon's windows were derived, not fitted to measurements: likely, doubtful, unlikely, never more.
"""

import math
from dataclasses import dataclass

import numpy as np

from aquacalc.constants import STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.hydraulics.pipes import L_H_PER_M3_S, bore_area_m2, self_venting_l_h
from aquacalc.possible import possible

LITRES_PER_M3 = 1000.0  # exact
TOTAL_CHLORINE_LIMIT_MG_L = 0.005  # half of the chronic criterion 0.011 (EPA 1984, from memory), rounded down


@possible
def bed_water_l(area_m2: Numbers, flood_m: Numbers, void_fraction: Numbers) -> Numbers:
    """Water between the grains up to a depth, L; for a flood take top level minus lowest level as depth.

    Exact, by geometry.

    >>> round(bed_water_l(1.0, 0.23, 0.40), 6)
    92.0
    """
    return LITRES_PER_M3 * area_m2 * flood_m * void_fraction


@possible
def fill_time_s(water_l: Numbers, flow_l_h: Numbers) -> Numbers:
    """Seconds to fill a bed whose drain is shut. By definition.

    >>> fill_time_s(92.0, 400.0)
    828.0
    """
    return 3600.0 * water_l / flow_l_h


def floods_per_h(fill_s: Numbers, drain_s: Numbers) -> Numbers:
    """Floods an hour of a bed that fills and drains by itself. By definition."""
    return 3600.0 / (fill_s + drain_s)


@dataclass(frozen=True)
class Siphon:
    """A bell siphon: bore of its standpipe, fall from bed floor to outlet, sum of losses (4 / 5 / 8)."""

    bore_mm: float
    fall_m: float
    losses: float = 5.0

    def flow_l_h(self, level_m: Numbers) -> Numbers:
        """Flow while it runs, with the water at a level above the bed's floor.

        >>> round(Siphon(25.0, 0.30).flow_l_h(0.25))
        2596
        """
        head = level_m + self.fall_m
        return (
            L_H_PER_M3_S
            * bore_area_m2(self.bore_mm)
            * (2.0 * STANDARD_GRAVITY_M_S2 * head / self.losses) ** 0.5
        )

    def priming_l_h(self, froude: Numbers = 0.3) -> Numbers:
        """Inflow that starts it: froude 0.2 where it starts easily, 0.3 typical, 0.5 hard."""
        return self_venting_l_h(self.bore_mm, froude)

    def breaking_l_h(self, lowest_m: Numbers, share: Numbers = 0.35) -> Numbers:
        """Largest inflow at which it still stops; share 0.2 / 0.35 / 0.6 of its flow at the lowest level."""
        return share * self.flow_l_h(lowest_m)


@possible
def siphon_drain_s(
    siphon: Siphon,
    area_m2: float,
    void_fraction: float,
    top_m: float,
    lowest_m: float,
    inflow_l_h: float = 0.0,
) -> float:
    """Seconds in which a siphon empties a bed while water flows in; infinite where it never gets there.

    Own reckoning.

    >>> round(siphon_drain_s(Siphon(25.0, 0.30), 1.0, 0.40, 0.25, 0.02), 1)
    144.8
    """
    per_root = float(siphon.flow_l_h(1.0 - siphon.fall_m)) / L_H_PER_M3_S  # flow with 1 m of head
    return _falling_s(
        area_m2 * void_fraction,
        per_root,
        math.sqrt(top_m + siphon.fall_m),
        math.sqrt(lowest_m + siphon.fall_m),
        inflow_l_h / L_H_PER_M3_S,
    )


@possible
def hole_drain_s(
    hole_mm: float,
    area_m2: float,
    void_fraction: float,
    top_m: float,
    lowest_m: float,
    coefficient: float = 0.61,
) -> float:
    """Seconds in which a bed drains through a hole at the foot of its standpipe, pump off.

    Exact, by Torricelli's law; the coefficient of a sharp hole is from memory.

    >>> round(hole_drain_s(10.0, 1.0, 0.40, 0.25, 0.02))
    1352
    """
    return _falling_s(
        area_m2 * void_fraction, _hole(hole_mm, coefficient), math.sqrt(top_m), math.sqrt(lowest_m), 0.0
    )


@possible
def hole_fill_s(
    hole_mm: float,
    area_m2: float,
    void_fraction: float,
    top_m: float,
    lowest_m: float,
    inflow_l_h: float,
    coefficient: float = 0.61,
) -> float:
    """Seconds in which a bed fills while the hole stays open; infinite where the hole passes the inflow.

    Exact, by Torricelli's law; the coefficient of a sharp hole is from memory.

    >>> round(hole_fill_s(12.0, 1.2, 0.42, 0.25, 0.02, 1000.0), 1)
    704.7
    """
    surface, per_root, inflow = (
        area_m2 * void_fraction,
        _hole(hole_mm, coefficient),
        inflow_l_h / L_H_PER_M3_S,
    )
    top, bottom = math.sqrt(top_m), math.sqrt(lowest_m)
    if inflow <= per_root * top:
        return math.inf
    left = math.log((inflow - per_root * top) / (inflow - per_root * bottom))
    return -2.0 * surface / per_root * (top - bottom + inflow / per_root * left)


def _hole(hole_mm: float, coefficient: float) -> float:
    return float(coefficient * bore_area_m2(hole_mm) * (2.0 * STANDARD_GRAVITY_M_S2) ** 0.5)


def _falling_s(surface_m2: float, per_root: float, top: float, bottom: float, inflow_m3_s: float) -> float:
    """Time of a level whose outflow goes with the root of the head; `top` and `bottom` are such roots."""
    if per_root * bottom <= inflow_m3_s:
        return math.inf
    time = top - bottom
    if inflow_m3_s > 0.0:
        left = math.log((per_root * top - inflow_m3_s) / (per_root * bottom - inflow_m3_s))
        time += inflow_m3_s / per_root * left
    return 2.0 * surface_m2 / per_root * time


# The sump


def sump_rim_l(
    bed_swings_l: Numbers,
    surcharge_l: Numbers,
    pipes_l: Numbers,
    losses_l: Numbers,
    cover_l: Numbers,
    freeboard_share: Numbers = 0.1,
) -> Numbers:
    """Capacity that a sump needs up to its rim, L, with all beds swinging at once.

    surcharge_l: rise of tanks while water runs through them. losses_l: until the next top-up.
    cover_l: what must stay over the pump's intake. Own reckoning, by mass balance.

    >>> round(sump_rim_l(332.6, 22.0, 5.8, 45.0, 96.0, 0.10), 1)
    557.1
    """
    return (cover_l + bed_swings_l + surcharge_l + pipes_l + losses_l) / (1.0 - freeboard_share)


def sump_low_l(
    idle_l: Numbers, bed_swings_l: Numbers, surcharge_l: Numbers, pipes_l: Numbers, losses_l: Numbers
) -> Numbers:
    """Water left in the sump at its lowest, L; below zero means that the pump runs dry.

    Own reckoning, by mass balance.
    """
    return idle_l - bed_swings_l - surcharge_l - pipes_l - losses_l


def back_siphon_l(tank_area_m2: Numbers, outlet_depth_m: Numbers) -> Numbers:
    """Water that runs back through a stopped pump from a return that ends under water, L. Exact, by geometry.

    >>> back_siphon_l(1.1, 0.15)
    165.0
    """
    return LITRES_PER_M3 * tank_area_m2 * outlet_depth_m


@possible
def spill_time_s(tank_area_m2: Numbers, freeboard_m: Numbers, flow_l_h: Numbers) -> Numbers:
    """Seconds until a tank whose outlet is blocked spills. Exact, by geometry.

    >>> round(spill_time_s(1.1, 0.10, 2000.0) / 60.0, 1)
    3.3
    """
    return 3600.0 * LITRES_PER_M3 * tank_area_m2 * freeboard_m / flow_l_h


def top_up_limit_l(
    tap_chlorine_mg_l: Numbers, system_l: Numbers, limit_mg_l: Numbers = TOTAL_CHLORINE_LIMIT_MG_L
) -> Numbers:
    """Untreated water that may come in at one time before total chlorine passes the limit, L.

    Exact, by mass balance; the limit is half of a criterion of EPACL84 (from memory).

    >>> float(top_up_limit_l(0.5, 1500.0))
    15.0
    """
    with np.errstate(divide="ignore"):
        return np.divide(limit_mg_l * system_l, tap_chlorine_mg_l)
