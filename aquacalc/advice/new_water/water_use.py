"""How much water a loop drinks, month by month: tanks, leaves, and what splashes and leaks away.

Means of a usual year; single hot days take half as much again. All months run January first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import crops
from aquacalc.climate import evaporation
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.season import water_use as reckoned
from aquacalc.sizing import absence
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, Triangle, band, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Away, Garden

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
    triangles = {name: coefficient(name) for name in sorted(set(reckoned.COEFFICIENTS))}
    sampled = draw({**triangles, **reckoned.triangles(garden)}, members, seed)
    times = np.asarray(reckoned.times(garden, sampled))[..., None]
    return _use(*(part * times for part in reckoned.parts_l_d(garden, sampled)))


def of_absence(garden: Garden, away: Away | None, members: int = MEMBERS, seed: int = SEED) -> Triangle:
    """Litres of a day in the thirstiest month of an absence; of the year, where there is none."""
    drunk = of_garden(garden, members, seed).whole_l_d
    touched = np.arange(MONTHS_PER_YEAR)
    if away is not None:
        days = (away.end - away.start).days + 1
        touched = np.unique([(away.start + timedelta(day)).month - 1 for day in range(days)])
    most = touched[int(np.argmax(drunk.middle[touched]))]
    return Triangle(*(float(end[most]) for end in (drunk.low, drunk.middle, drunk.high)))


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
        evaporation.crop_water_l_d(place.planted_m2, reckoned.LEAF_KC, et0),
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
