"""Every day on which a crop may be planted into a bed, with its picks: what a plan of the beds chooses from.

The days are those that the schedule would keep: its picks, its absences, its frost.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops
from aquacalc.garden import usual_year
from aquacalc.garden.model import CropPlan
from aquacalc.schedule import absences, positions
from aquacalc.schedule.crops import AHEAD_DAYS, Ground, ground_of, picking_days
from aquacalc.uncertainty import coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


@dataclass(frozen=True)
class Timing:
    """A planting that a usual year lets get ready.

    plant: a garden day; first_pick, last_pick: as the schedule has them, the same day for what is cut once;
    share: of the table's yield that light and a window cut short leave.
    """

    plant: date
    first_pick: date
    last_pick: date
    share: float


def timings(garden: Garden, crop: str, bed: str) -> tuple[Timing, ...]:
    """The plantings of a crop on the garden days of the season; none where it never gets ready.

    Source: own reckoning, by the schedule's own days.
    """
    plan = CropPlan(crop, bed, area_m2=1.0)
    year = usual_year.usual_year_of(garden)
    days = positions.around(garden.season, after=AHEAD_DAYS)
    ground = ground_of(replace(garden, crops=(plan,)), 0, year, days)
    weight = _light_on_mass(ground, year)
    return tuple(_timings(ground, weight))


def _timings(ground: Ground, weight: np.ndarray) -> Iterator[Timing]:
    days, garden = ground.days, ground.garden
    weekday = absences.garden_day(garden)
    for planted in range(days.start, days.end + 1):
        home = days.weekday[planted] == weekday and absences.away(days.day(planted), garden) is None
        if not (home and ground.may_plant[planted]):
            continue
        last = int(ground.run_end[planted])
        if ground.reached(planted, ground.crop.days.typical) > last:
            continue
        picks = picking_days(ground, planted, last)
        if picks is not None and picks[0] <= days.end:
            yield Timing(
                days.day(planted),
                days.day(picks[0]),
                days.day(picks[1]),
                _share(ground, planted, picks, weight),
            )


def _share(ground: Ground, planted: int, picks: tuple[int, int], weight: np.ndarray) -> float:
    """Share of the full yield: of the window that is passed, by the light on what grows. Own reckoning."""
    ready, done = picks
    grown = ground.factor[planted : done + 1]
    passed, window = 1.0, ground.crop.window_days.typical
    if window > 0.0:
        passed = min(float(ground.factor[ready : done + 1].sum()) / window, 1.0)
    return passed * float(np.average(weight[planted : done + 1], weights=grown + 1e-9))


def _light_on_mass(ground: Ground, year: usual_year.UsualYear) -> np.ndarray:
    """What little light costs of the mass, beyond the days that it costs, by day."""
    light = year.light_mol_m2_d[ground.days.of_year]
    return crops.light_on_mass(ground.crop, light, coefficient("leaf_mass_light").typical)
