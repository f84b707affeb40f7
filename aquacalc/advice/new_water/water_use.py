"""How much water a loop drinks, month by month: tanks, leaves, and what splashes and leaks away.

Means of a usual year; single hot days take half as much again. All months run January first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import crops
from aquacalc.climate import evaporation, months
from aquacalc.constants import DAYS_PER_YEAR, HOURS_PER_DAY, MONTHS_PER_YEAR
from aquacalc.garden import litres
from aquacalc.season import weather
from aquacalc.sizing import absence
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, Triangle, band, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

Weather = Literal["cool", "mild", "hot-humid", "hot-dry", "indoors"]

ET0_MM_D: Mapping[Weather, Triangle] = {
    "cool": Triangle(1.0, 2.0, 3.0),
    "mild": Triangle(2.0, 3.5, 5.0),
    "hot-humid": Triangle(4.0, 5.5, 7.0),
    "hot-dry": Triangle(6.0, 7.5, 9.0),
    "indoors": Triangle(2.0, 2.5, 3.0),
}
"""Reference evapotranspiration of a mean day, mm, which is L/m2: FAO 56, Table 2, from memory (humid and dry
places taken together where they differ little); indoors of a full canopy under lamps."""
LEAF_KC = 0.8
"""Leaf canopy of plants of all ages against the reference (practice)."""
USUAL_YEAR = date(2027, 1, 1)
"""Any year without a leap day."""


@dataclass(frozen=True, eq=False)
class Use:
    """Litres a day by month, (12,) each: from the tanks, through the leaves, splashed and leaked (middles),
    and all of it as a band."""

    tanks_l_d: Floats
    leaves_l_d: Floats
    splashed_l_d: Floats
    whole_l_d: Band

    @property
    def share(self) -> Triangle:
        """The year's band over its middle."""
        low, middle, high = (
            float(np.mean(end)) for end in (self.whole_l_d.low, self.whole_l_d.middle, self.whole_l_d.high)
        )
        return Triangle(low / middle, 1.0, high / middle) if middle > 0.0 else Triangle(1.0, 1.0, 1.0)


def of_garden(garden: Garden, members: int = MEMBERS, seed: int = SEED) -> Use:
    """What this garden drinks in a usual year: its climate, its cover, its tanks, its crops in their months.

    Crops count by the months in which the garden file has them stand; a season's own days differ a little.
    Where the grower counted the litres, every month is taken in the proportion of the month of counting, or
    of the year's mean where no day is told.
    """
    parts, sampled = _reckoned(garden, members, seed)
    counted = garden.last_measured("water_use")
    if counted is not None:
        whole = np.sum(parts, axis=0)
        then = whole.mean(axis=1) if counted.day is None else whole[:, counted.day.month - 1]
        times = sampled["measured"] * counted.value * HOURS_PER_DAY / np.maximum(then, 1e-9)
        parts = tuple(part * times[:, None] for part in parts)
    return _use(*parts)


def _reckoned(garden: Garden, members: int, seed: int) -> tuple[tuple[Floats, ...], Mapping[str, Floats]]:
    """Litres a day of tanks, leaves and splash by climate and crops, (members, 12) each; and the draw."""
    names = {*weather.COEFFICIENTS, "splash_share_per_d"}
    triangles = {name: coefficient(name) for name in sorted(names)}
    sampled = draw({**triangles, "measured": absence.COUNTED}, members, seed)
    sky = weather.weather_of(garden, sampled, USUAL_YEAR, DAYS_PER_YEAR, seed, anomalies=False)
    month = months.month_of_day() + 1
    covered = {bed.name for bed in garden.beds if not bed.holds_medium}
    leaves = np.zeros_like(sky.tank_l_d)
    for plan in garden.crops:
        kc = crops.bed_kc(crops.crop(plan.crop), plan.bed in covered, sampled["mean_kc_staggered"])
        stands = np.isin(month, plan.months)[:, None]
        leaves += evaporation.crop_water_l_d(
            plan.area_m2, np.nan_to_num(kc, nan=LEAF_KC), sky.et0_mm_d
        ) * np.where(stands, 1.0, 0.0)
    splashed = np.broadcast_to(sampled["splash_share_per_d"] * litres.litres_of(garden).whole, leaves.shape)
    parts = (sky.tank_l_d, leaves, splashed)
    return tuple(months.monthly_means(part.T) for part in parts), sampled


@dataclass(frozen=True)
class Place:
    """A loop without a garden file: open water, planted area, water that circulates, the weather.

    measured_l_week: the grower's own litres in a week; NaN where they were not counted.
    """

    open_m2: float
    planted_m2: float
    volume_l: float
    weather: Weather
    measured_l_week: float = float("nan")


def of_place(place: Place, members: int = MEMBERS, seed: int = SEED) -> Use:
    """What it drinks on a mean day of such weather, the same in each month; measured litres go first.

    >>> told = of_place(Place(1.0, 2.0, 1000.0, "mild", 140.0))
    >>> round(float(told.whole_l_d.middle[0]))
    20
    """
    triangles = {
        "et0": ET0_MM_D[place.weather],
        "splash_share_per_d": coefficient("splash_share_per_d"),
        "measured": absence.COUNTED,
    }
    sampled = draw(triangles, members, seed)
    et0 = sampled["et0"]
    parts = [
        evaporation.crop_water_l_d(place.open_m2, crops.OPEN_WATER_KC, et0),
        evaporation.crop_water_l_d(place.planted_m2, LEAF_KC, et0),
        sampled["splash_share_per_d"] * place.volume_l,
    ]
    if not np.isnan(place.measured_l_week):
        # The parts keep their shares, the whole is the grower's.
        whole = np.maximum(sum(parts), 1e-9)
        measured = sampled["measured"] * place.measured_l_week / 7.0
        parts = [part / whole * measured for part in parts]
    return _use(*(np.repeat(np.asarray(part)[:, None], MONTHS_PER_YEAR, axis=1) for part in parts))


def _use(tanks: Floats, leaves: Floats, splashed: Floats) -> Use:
    """From (members, 12) each."""
    return Use(
        tanks_l_d=band(tanks, axis=0).middle,
        leaves_l_d=band(leaves, axis=0).middle,
        splashed_l_d=band(splashed, axis=0).middle,
        whole_l_d=band(tanks + leaves + splashed, axis=0),
    )
