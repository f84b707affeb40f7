"""Solids: what feed leaves behind, what a separator catches, what a media bed is asked to swallow."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from aquacalc.constants import SECONDS_PER_HOUR, STANDARD_GRAVITY_M_S2, Numbers
from aquacalc.possible import possible
from aquacalc.uncertainty import Floats, coefficient

REMOVAL_COEFFICIENTS: Mapping[str, str] = {
    "radial": "removal_radial",
    "swirl": "removal_swirl",
    "settler": "removal_settler",
    "drum": "removal_radial",
}
"""Kind of separator to its row in the table of coefficients. A drum screen takes what a radial settler takes;
no figure of its own is at hand."""

TESTED_M_H: Mapping[str, float] = {"radial": 11.2, "swirl": 11.2, "settler": 2.0}
"""Surface loading at which a kind caught that share: radial and swirl DAVSUM05 (read), settler the upper
end of what basins are made for (TIMEBE, memory). A screen has none."""

CLOGGED_SHARE, CLOGGING_SHARE = 0.35, 0.15
"""Of a bed's water lost to roots and solids: from the first it is dug out or rinsed, up to the second it is
left alone. Common practice, no source."""

NEWTON_STEPS = 20
"""Far more than the settling velocity needs for the last digit."""
HALVINGS = 50
"""Of a span of diameters on a logarithmic scale; far finer than any particle is known."""


def caught_share(kind: str, draw: Mapping[str, Floats], whole_flow: bool = False) -> Floats:
    """Share of suspended solids that a separator catches, of a draw of its coefficients.

    whole_flow: it gets all of the tank's water. The shares were measured on the thick stream of a bottom
    drain, 7 to 8 % of the flow; on thinner water their low end counts (own reckoning).
    """
    name = REMOVAL_COEFFICIENTS[kind]
    return np.full_like(draw[name], coefficient(name).low) if whole_flow else draw[name]


def still_there_share(rate_1_d: Numbers, days_between_draws: Numbers) -> Numbers:
    """Share of the solids caught that still lies in a separator when it is drawn.

    They break down at a first-order rate, and lie there for half the time between two draws in the mean; own
    reckoning.

    >>> round(float(still_there_share(0.05, 7.0)), 3)
    0.839
    """
    left: Numbers = np.exp(-rate_1_d * days_between_draws / 2.0)
    return left


def held_g(caught_g_day: Numbers, rate_1_d: Numbers) -> Numbers:
    """Solids that lie in a loop once as much breaks down as comes, g. Own reckoning, by mass balance.

    >>> held_g(10.0, 0.05)
    200.0
    """
    return caught_g_day / rate_1_d


def void_lost_share(fill_min: Numbers, new_fill_min: Numbers) -> Numbers:
    """Share of a bed's water that roots and solids have displaced, from its fill time at the same inflow.

    By definition; below 0 where it fills slower than when it was new.

    >>> round(void_lost_share(9.4, 14.4), 2)
    0.35
    """
    return 1.0 - fill_min / new_fill_min


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


def months_left(lost_share: Numbers, months: Numbers, until_share: Numbers = CLOGGED_SHARE) -> Numbers:
    """Months until a bed has lost a share, if it goes on losing as it did since it was new.

    Own reckoning, a straight line: weak; 0 once it is lost, infinite where nothing was lost.
    """
    lost = np.maximum(lost_share, 0.0)
    with np.errstate(divide="ignore"):
        left: Numbers = np.maximum(until_share - lost, 0.0) * months / lost
    return left


def cut_size_m(
    loading_m_h: float, density_kg_m3: float, water_density_kg_m3: float, viscosity_pa_s: float
) -> float:
    """Diameter of the round particle that settles as fast as the water of a settler rises, m.

    All larger ones settle in an ideal settler. Found by halving; 1 um to 10 cm. By
    definition of an ideal settler.
    """
    rises_m_s = loading_m_h / SECONDS_PER_HOUR
    low, high = 1e-6, 0.1
    for _ in range(HALVINGS):
        middle = (low * high) ** 0.5
        settles = settling_velocity_m_s(middle, density_kg_m3, water_density_kg_m3, viscosity_pa_s)
        low, high = (low, middle) if settles > rises_m_s else (middle, high)
    return high


def ideal_removal(settling_m_s: ArrayLike, loading_m_h: ArrayLike) -> Floats:
    """Share of one particle size that an ideal settler catches at a surface loading.

    By definition of an ideal settler.
    """
    settling_m_h = SECONDS_PER_HOUR * np.asarray(settling_m_s, dtype=np.float64)
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
