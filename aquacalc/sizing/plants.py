"""What the beds want through the plan's months, by both methods."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops
from aquacalc.climate import months as months_of_year
from aquacalc.garden import opening, surroundings, usual_year
from aquacalc.sizing import denitrification
from aquacalc.uncertainty import Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    *crops.AREA_RULE_COEFFICIENTS.values(),
    *denitrification.COEFFICIENTS,
    "tan_per_protein_sizing",
    "leaf_days_light",
    "leaf_mass_light",
)


@dataclass(frozen=True, eq=False)
class Demand:
    """Arrays of shape (members, months): feed by either method, nitrogen taken up.

    rule_g_m2_d: the handbook's feed per area for this garden's mix of crops, (members, 1).
    """

    area_rule_g_day: Floats
    balance_g_day: Floats
    uptake_g_n_day: Floats
    rule_g_m2_d: Floats


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Nitrogen uptake of each crop per area of bed, by the names `crop.ID.uptake`."""
    return {
        f"crop.{key}.uptake": crops.crop(key).uptake_n_g_m2_d
        for key in sorted({plan.crop for plan in garden.crops})
    }


def demand_of(garden: Garden, months: Sequence[int], draw: Mapping[str, Floats]) -> Demand:
    """Feed that the beds want in each month of the plan.

    By the handbook's area rule every planted area counts in full; by the nitrogen balance a crop takes up as
    much as temperature and light let it grow, and nothing on days on which it cannot be in its bed.
    """
    order = np.array(months) - 1
    air = surroundings.growing_air_c(garden, draw)[:, order]
    light = surroundings.light_mol_m2_d(garden, draw)[:, order]
    water = surroundings.water_c(garden, draw)[:, order]
    year = usual_year.usual_year_of(garden)
    range_k = months_of_year.monthly_means(year.range_k)[order]
    uptake = np.zeros_like(air)
    by_rule = np.zeros_like(air)
    planted = 0.0
    mixed = np.zeros((air.shape[0], 1))
    for plan in garden.crops:
        crop = crops.crop(plan.crop)
        stands = np.array([month in plan.months for month in months], dtype=np.float64)
        there = months_of_year.monthly_means(opening.in_bed(crop, garden.site, year).astype(np.float64))[
            order
        ]
        growth = (
            crops.warmth_factor(crop, air, water, range_k)
            * crops.light_on_days(crop, light, draw["leaf_days_light"][:, None])
            * crops.light_on_mass(crop, light, draw["leaf_mass_light"][:, None])
        )
        uptake += plan.area_m2 * draw[f"crop.{plan.crop}.uptake"][:, None] * growth * stands * there
        rule = crops.scaled_by_protein(
            draw[crops.AREA_RULE_COEFFICIENTS[crop.rule_kind]][:, None], garden.protein_fraction()
        )
        by_rule += plan.area_m2 * rule * stands
        mixed += plan.area_m2 * rule
        planted += plan.area_m2
    if not planted:
        leafy = draw[crops.AREA_RULE_COEFFICIENTS["leafy"]][:, None]
        planted, mixed = 1.0, mixed + crops.scaled_by_protein(leafy, garden.protein_fraction())
    return Demand(
        area_rule_g_day=by_rule,
        balance_g_day=np.asarray(
            crops.feed_for_uptake_g_day(
                uptake,
                garden.protein_fraction(),
                draw["tan_per_protein_sizing"][:, None],
                denitrification.share(garden, draw)[:, None],
            )
        ),
        uptake_g_n_day=uptake,
        rule_g_m2_d=mixed / planted,
    )
