"""What a loop drinks in a usual year, and by how much the grower's own count of litres moves it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops
from aquacalc.climate import evaporation, months
from aquacalc.constants import DAYS_PER_YEAR, HOURS_PER_DAY, Numbers
from aquacalc.garden import litres
from aquacalc.season import weather
from aquacalc.sizing import absence
from aquacalc.uncertainty import SEED, Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

SPLASHED = "splash_share_per_d"
COEFFICIENTS = (*weather.COEFFICIENTS, SPLASHED)
COUNTED = "measured"
"""Name in a draw of how a count of litres stands to the mean of a season."""
LEAF_KC = 0.8
"""Leaf canopy of plants of all ages against the reference (practice)."""
USUAL_YEAR = date(2027, 1, 1)
"""Any year without a leap day."""


def triangles(garden: Garden) -> dict[str, Triangle]:
    """What is uncertain about a count, where there is one."""
    return {} if garden.last_measured("water_use") is None else {COUNTED: absence.COUNTED}


def parts_l_d(garden: Garden, draw: Mapping[str, Floats]) -> tuple[Floats, Floats, Floats]:
    """Litres a day of tanks, leaves and splash by climate and crops, (members, 12) each, January first.

    Crops count by the months in which the garden file has them stand. Source: own reckoning, by definition.
    """
    sky = weather.weather_of(garden, draw, USUAL_YEAR, DAYS_PER_YEAR, SEED, anomalies=False)
    month = months.month_of_day() + 1
    covered = {bed.name for bed in garden.beds if not bed.holds_medium}
    leaves = np.zeros_like(sky.tank_l_d)
    for plan in garden.crops:
        kc = crops.bed_kc(crops.crop(plan.crop), plan.bed in covered, draw["mean_kc_staggered"])
        stands = np.isin(month, plan.months)[:, None]
        leaves += evaporation.crop_water_l_d(
            plan.area_m2, np.nan_to_num(kc, nan=LEAF_KC), sky.et0_mm_d
        ) * np.where(stands, 1.0, 0.0)
    splashed = np.broadcast_to(draw[SPLASHED] * litres.litres_of(garden).whole, leaves.shape)
    tanks, drunk, lost = (months.monthly_means(part.T) for part in (sky.tank_l_d, leaves, splashed))
    return tanks, drunk, lost


def times(garden: Garden, draw: Mapping[str, Floats]) -> Numbers:
    """What the loop uses over what is reckoned, (members,), where the grower counted the litres; else 1.

    Every month is taken in the proportion of the month of counting, or of the year's mean where no day is
    told. Source: own reckoning, by definition.
    """
    counted = garden.last_measured("water_use")
    if counted is None:
        return 1.0
    whole = np.sum(parts_l_d(garden, draw), axis=0)
    then = whole.mean(axis=1) if counted.day is None else whole[:, counted.day.month - 1]
    found: Floats = draw[COUNTED] * counted.value * HOURS_PER_DAY / np.maximum(then, 1e-9)
    return found
