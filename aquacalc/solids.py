"""Solids: what feed leaves behind, what a separator catches, what a media bed is asked to swallow."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from aquacalc.constants import STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.possible import possible
from aquacalc.uncertainty import Floats, Triangle, coefficient

REMOVAL_COEFFICIENTS: Mapping[str, str] = {
    "radial": "removal_radial",
    "swirl": "removal_swirl",
    "settler": "removal_settler",
}
"""Kind of separator to its row in the table of coefficients; no row was found for a drum screen."""

NEWTON_STEPS = 20
"""Far more than the settling velocity needs for the last digit."""


def removal(kind: str) -> Triangle:
    """Share of suspended solids that a separator catches; on the whole tank flow use the low value."""
    return coefficient(REMOVAL_COEFFICIENTS[kind])


@possible
def dry_solids_g_day(feed_g_day: Numbers, solids_per_feed: Numbers = 0.25) -> Numbers:
    """Dry solids from a day's feed; 0.20 to 0.40 g per g, 0.25 for what settles (TIMEBE, memory).

    >>> dry_solids_g_day(100.0)
    25.0
    """
    return feed_g_day * solids_per_feed


@possible
def bed_loading_g_m2_d(solids_g_day: Numbers, removed_share: Numbers, bed_m2: Numbers) -> Numbers:
    """Dry solids that reach a square metre of media bed a day behind a separator. By definition."""
    return solids_g_day * (1.0 - removed_share) / bed_m2


@possible
def surface_loading_m_h(flow_l_h: Numbers, area_m2: Numbers) -> Numbers:
    """Overflow rate of a settler, m/h. By definition."""
    return flow_l_h / 1000.0 / area_m2


@possible
def retention_min(volume_l: Numbers, flow_l_h: Numbers) -> Numbers:
    """Time that water stays in a vessel. By definition.

    >>> retention_min(150.0, 2000.0)
    4.5
    """
    return 60.0 * volume_l / flow_l_h


@possible
def settling_velocity_m_s(
    diameter_m: ArrayLike, density_kg_m3: ArrayLike, water_density_kg_m3: float, viscosity_pa_s: float
) -> Floats:
    """Velocity at which a round particle settles in still water, m/s.

    Drag coefficient 24/Re (1 + 0.15 Re^0.687) (Schiller and Naumann), for Re below 1000; at small Re this is
    Stokes' law. Real particles are flakes and strings: take it as an upper end. From memory.

    >>> round(1000 * float(settling_velocity_m_s(1e-4, 1100.0, 998.2, 1.002e-3)), 2)
    0.54
    """
    diameter = np.asarray(diameter_m, dtype=np.float64)
    heavier = np.asarray(density_kg_m3) - water_density_kg_m3
    stokes = STANDARD_GRAVITY_M_S2 * heavier * diameter**2 / (18.0 * viscosity_pa_s)
    # v (1 + 0.15 Re^0.687) = Stokes velocity. The left side rises and is convex: Newton's steps from above.
    reynolds_per_v = water_density_kg_m3 * diameter / viscosity_pa_s
    velocity: Floats = stokes
    for _ in range(NEWTON_STEPS):
        extra = 0.15 * (reynolds_per_v * velocity) ** 0.687
        velocity = velocity - (velocity * (1.0 + extra) - stokes) / (1.0 + 1.687 * extra)
    return velocity


def ideal_removal(settling_m_s: ArrayLike, loading_m_h: ArrayLike) -> Floats:
    """Share of one particle size that an ideal settler catches at a surface loading.

    By definition of an ideal settler.
    """
    settling_m_h = 3600.0 * np.asarray(settling_m_s, dtype=np.float64)
    caught: Floats = np.minimum(1.0, settling_m_h / np.asarray(loading_m_h))
    return caught


@possible
def sludge_l_day(dry_g_day: Numbers, dry_fraction: Numbers = 0.015) -> Numbers:
    """Wet sludge to draw, L/d, taking a litre as a kilogram; dry matter 0.5 to 3 %.

    By definition; the dry matter is common practice, no source.

    >>> round(sludge_l_day(25.0), 3)
    1.667
    """
    return dry_g_day / dry_fraction / 1000.0
