"""The surfaces of a garden that nitrify, by kind: one list for balance, season and start-up."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.film import Surface
from aquacalc.uncertainty import Floats, coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import Bed, Garden, Tank

COEFFICIENTS = ("wetted_share", "root_surface_m2_m2", "raft_surface_m2_m2", "film_share_unsettled")
NETTING = "netting"
"""Key of the medium that hangs in the flow as netting or brushes."""
LEAST_FLOW_M3_D = 1e-6
"""A pump that brings nothing leaves a filter as good as none."""


def surfaces_of(garden: Garden, flow_l_h: Floats, draw: Mapping[str, Floats]) -> tuple[Surface, ...]:
    """Media beds, rafts and channels with their roots, the separate filter, walls of tanks.

    flow_l_h: round the loop; draw: `COEFFICIENTS` and `media.MEDIUM.surface`; all of one shape. A raft counts
    with roots where the plan has crops, by area. A separate filter that gets the solids does less.
    """
    flow_m3_d = np.maximum(flow_l_h * 24.0 / 1000.0, LEAST_FLOW_M3_D)
    found = [_of_bed(garden, bed, flow_m3_d, draw) for bed in garden.beds]
    if garden.biofilter is not None:
        netting = garden.biofilter.medium == NETTING
        area = garden.biofilter.media_l / 1000.0 * garden.biofilter.surface_m2_m3 * clean_share(garden, draw)
        found.append(Surface(area, transfer_m_d("netting" if netting else "filter"), flow_m3_d))
    walls = sum(walls_m2(tank) for tank in garden.tanks)
    return (*found, Surface(walls + 0.0 * flow_m3_d, transfer_m_d("walls")))


def clean_share(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """What a separate filter does, against one that gets no solids."""
    settled = garden.solids_filter.kind != "none"
    return np.ones_like(draw["film_share_unsettled"]) if settled else draw["film_share_unsettled"]


def transfer_m_d(kind: str) -> float:
    """Typical transfer velocity of a kind of surface at 20 C; its spread is common to all kinds."""
    return coefficient(f"film_transfer_{kind}_m_d").typical


def walls_m2(tank: Tank) -> float:
    """Wet floor and walls of a tank, as of a round one."""
    return tank.surface_m2 + 2.0 * math.sqrt(math.pi * tank.surface_m2) * tank.depth_m


def area_m2(surfaces: tuple[Surface, ...]) -> Floats:
    """Surface that nitrifies in all, m2."""
    return np.asarray(sum(one.area_m2 for one in surfaces))


def _of_bed(garden: Garden, bed: Bed, flow_m3_d: Floats, draw: Mapping[str, Floats]) -> Surface:
    if bed.holds_medium:
        surface = draw[f"media.{bed.medium}.surface"] * draw["wetted_share"]
        share = bed.area_m2 / sum(one.area_m2 for one in garden.beds)
        kind = "constant" if bed.drain == "constant" else "flooded"
        return Surface(bed.area_m2 * bed.flood_m * surface, transfer_m_d(kind), flow_m3_d * share)
    planted = min(sum(plan.area_m2 for plan in garden.crops if plan.bed == bed.name) / bed.area_m2, 1.0)
    per_m2 = planted * draw["root_surface_m2_m2"] + (1.0 - planted) * draw["raft_surface_m2_m2"]
    return Surface(bed.area_m2 * per_m2 + 0.0 * flow_m3_d, transfer_m_d("roots"))
