"""What the beds want through the plan's months, by both methods."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops
from aquacalc.garden import surroundings
from aquacalc.sizing import denitrification
from aquacalc.uncertainty import Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    *crops.AREA_RULE_COEFFICIENTS.values(),
    *denitrification.COEFFICIENTS,
    "tan_per_protein_sizing",
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
    much as temperature and light let it grow.
    """
    order = np.array(months) - 1
    air = surroundings.growing_air_c(garden, draw)[:, order]
    light = surroundings.light_mol_m2_d(garden, draw)[:, order]
    uptake = np.zeros_like(air)
    by_rule = np.zeros_like(air)
    planted = 0.0
    mixed = np.zeros((air.shape[0], 1))
    for plan in garden.crops:
        crop = crops.crop(plan.crop)
        stands = np.array([month in plan.months for month in months], dtype=np.float64)
        growth = crops.temperature_factor(
            air, crop.base_c, crop.reference_c, crop.cap_c
        ) * crops.light_factor(light, crop.light_good_mol_m2_d, draw["light_exponent"][:, None])
        uptake += plan.area_m2 * draw[f"crop.{plan.crop}.uptake"][:, None] * growth * stands
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
