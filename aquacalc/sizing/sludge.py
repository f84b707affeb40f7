"""What a separator catches of the fish's solids, what leaves with its sludge, what falls on the beds."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from aquacalc import nitrogen, solids
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.hydraulics import water
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw

PARTICLE_KG_M3 = 1100.0
"""Of fish faeces; 1050 to 1190 (WASSOLIDS, read)."""
PLANT_FOOD = ("nitrogen", "phosphorus", "potassium", "iron")
COEFFICIENTS = (
    "solids_per_feed",
    "sludge_dry_share",
    "sludge_draw_l",
    "solids_n_mineralised_per_d",
    "theta_mineralisation",
    "feed_n_uneaten_share",
    "digested_nitrogen_share",
    *dict.fromkeys(solids.REMOVAL_COEFFICIENTS.values()),
    *(f"feed_{one}_g_kg" for one in PLANT_FOOD[1:]),
    *(f"digested_{one}_share" for one in PLANT_FOOD[1:]),
)


@dataclass(frozen=True)
class Separator:
    """A separator and what it gets.

    kind: of `solids.REMOVAL_COEFFICIENTS`, `none` where the beds are the only one. draw_l: water that a draw
    takes, None where nobody measured it. bed_m2: of beds behind it.
    """

    kind: str
    whole_flow: bool
    flow_l_h: float
    surface_m2: float
    water_l: float
    draw_every_d: float
    draw_l: float | None
    feed_g_day: float
    protein_fraction: float
    bed_m2: float
    water_c: float


@dataclass(frozen=True)
class Separated:
    """What becomes of the solids.

    caught: share of them. loading_m_h, retention_min: NaN without a separator. cut_mm: the particle that
    settles as fast as the water rises. drawn_g_day: dry, that leaves. sludge_l, water_l: of one draw, the
    sludge itself and all that runs out. water_l_week: let out. gone_g_week: plant food in the solids drawn.
    beds_g_m2_d, feed_g_m2_d: dry solids and feed for each m2 of bed. held_g: dry solids that lie in the loop
    in the long run.
    """

    caught: Band
    loading_m_h: float
    retention_min: float
    cut_mm: float
    drawn_g_day: Band
    sludge_l: Band
    water_l: Band
    water_l_week: Band
    gone_g_week: Mapping[str, Band]
    beds_g_m2_d: Band
    feed_g_m2_d: float
    held_g: Band


def separated(asked: Separator, members: int = MEMBERS, seed: int = SEED) -> Separated:
    """What a separator does, over what is uncertain of it. The same shares as a season's."""
    sampled = draw({name: coefficient(name) for name in COEFFICIENTS}, members, seed)
    none = asked.kind == "none"
    caught = np.zeros(members) if none else solids.caught_share(asked.kind, sampled, asked.whole_flow)
    rate = sampled["solids_n_mineralised_per_d"] * sampled["theta_mineralisation"] ** (asked.water_c - 20.0)
    leaves = caught * solids.still_there_share(rate, asked.draw_every_d)
    dry = solids.dry_solids_g_day(asked.feed_g_day, sampled["solids_per_feed"])
    between = max(asked.draw_every_d, 1.0)
    sludge = solids.sludge_l_day(dry * leaves, sampled["sludge_dry_share"]) * between
    out = sampled["sludge_draw_l"] if asked.draw_l is None else np.full(members, asked.draw_l)
    out = np.zeros(members) if none else np.maximum(out, sludge)
    loading = np.nan if none else float(solids.surface_loading_m_h(asked.flow_l_h, asked.surface_m2))
    return Separated(
        caught=band(caught),
        loading_m_h=loading,
        retention_min=np.nan if none else float(solids.retention_min(asked.water_l, asked.flow_l_h)),
        cut_mm=np.nan if none else 1000.0 * _cut_m(loading, asked.water_c),
        drawn_g_day=band(dry * leaves),
        sludge_l=band(sludge),
        water_l=band(out),
        water_l_week=band(out * DAYS_PER_WEEK / between),
        gone_g_week={
            one: band(DAYS_PER_WEEK * leaves * _undigested_g(one, asked, sampled)) for one in PLANT_FOOD
        },
        beds_g_m2_d=band(solids.bed_loading_g_m2_d(dry, caught, asked.bed_m2)),
        feed_g_m2_d=asked.feed_g_day / asked.bed_m2,
        held_g=band(solids.held_g(dry * (1.0 - leaves), rate)),
    )


def _cut_m(loading_m_h: float, water_c: float) -> float:
    density, viscosity = float(water.density_kg_m3(water_c)), float(water.viscosity_pa_s(water_c))
    return solids.cut_size_m(loading_m_h, PARTICLE_KG_M3, density, viscosity)


def _undigested_g(element: str, asked: Separator, sampled: Mapping[str, Floats]) -> Floats:
    """What faeces of a day hold of an element, g: eaten and not digested."""
    if element == "nitrogen":
        fed = nitrogen.feed_nitrogen_g_day(asked.feed_g_day, asked.protein_fraction)
    else:
        fed = asked.feed_g_day * sampled[f"feed_{element}_g_kg"] / 1000.0
    eaten: Floats = fed * (1.0 - sampled["feed_n_uneaten_share"])
    return eaten * (1.0 - sampled[f"digested_{element}_share"])


def capture(sizes_mm: Floats, loading_m_h: float, density_kg_m3: float, water_c: float) -> Floats:
    """Share that an ideal settler catches of round particles of each size."""
    settles = solids.settling_velocity_m_s(
        sizes_mm / 1000.0,
        density_kg_m3,
        float(water.density_kg_m3(water_c)),
        float(water.viscosity_pa_s(water_c)),
    )
    return solids.ideal_removal(settles, loading_m_h)
