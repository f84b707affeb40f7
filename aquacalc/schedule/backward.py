"""From a wished day of harvest back to planting and sowing, in a usual year."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops
from aquacalc.crops import Crop
from aquacalc.garden import opening, usual_year
from aquacalc.garden.model import Season
from aquacalc.schedule import positions
from aquacalc.schedule.crops import STILL_DAYS, STILL_FACTOR
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

BEFORE_DAYS = 730
AFTER_DAYS = 1000
SEARCH_DAYS = 365
"""Days around the wished one in which another harvest is looked for."""


@dataclass(frozen=True)
class Backward:
    """A batch counted backward.

    wished: the day that was asked for; kept: whether something is picked on it (if not, `first_pick` is the
    nearest day on which a harvest can begin); sow: None where it is planted or sown straight into the bed;
    early_pick, late_pick: first pick at the short and at the long end of the crop's growing time; last_pick:
    None where it is cut once; stands_still: spans, first and last day, without growth.
    """

    crop: str
    wished: date
    kept: bool
    sow: date | None
    plant: date
    first_pick: date
    early_pick: date
    late_pick: date
    last_pick: date | None
    stands_still: tuple[tuple[date, date], ...]


def for_harvest(crop: str, garden: Garden, wished: date) -> Backward | None:
    """The batch of which something is picked on a day, planted as late as it can be.

    garden: its place, cover, lamps and water; its beds and plans do not matter. Where nothing can be ready
    on the day, the batch whose first pick lies nearest to it; None where there is none in a year.
    """
    ground = _ground(crop, garden, wished)
    at = ground.days.start
    planted = ground.planting(at)
    if planted is not None:
        return _batch(ground, planted, wished, kept=True)
    for harvest in _nearest(at):
        planted = ground.planting(harvest)
        if planted is not None:
            return _batch(ground, planted, wished, kept=False)
    return None


@dataclass(frozen=True, eq=False)
class _Ground:
    """What a crop finds day by day; arrays over the days, see `schedule.crops`."""

    crop: Crop
    days: positions.Days
    factor: Floats
    longest_d: Floats
    may_plant: NDArray[np.bool_]
    run_end: NDArray[np.int64]

    def planting(self, harvest: int) -> int | None:
        """Latest day of planting from which something is picked on a day; None where there is none.

        What is picked again and again may have begun earlier; a head waits for a while.
        """
        whole = self.crop.days.typical
        again = self.crop.window_days.typical > 0.0
        longest = self.crop.bed_days if again else float(self.longest_d[harvest])
        latest = crops.planting_for_harvest(self.factor, harvest, whole)
        earliest = max(crops.planting_for_harvest(self.factor, harvest, longest), 0)
        fits = self.may_plant[earliest : latest + 1] & (self.run_end[earliest : latest + 1] >= harvest)
        found = np.flatnonzero(fits)
        return earliest + int(found[-1]) if found.size else None

    def reached(self, planted: int, reference_days: float) -> int:
        """Day on which a batch has so many days of growth behind it, or has to leave."""
        grown = float(crops.days_to_harvest(self.factor[planted:], reference_days))
        return int(min(planted + grown, self.run_end[planted]))


def _ground(key: str, garden: Garden, wished: date) -> _Ground:
    crop, year = crops.crop(key), usual_year.usual_year_of(garden)
    days = positions.around(Season(wished, wished), BEFORE_DAYS, AFTER_DAYS)
    stands = opening.standing(crop, garden.site, year)[days.of_year]
    ends = np.where(~stands, np.arange(stands.size), stands.size)
    following: NDArray[np.int64] = np.minimum.accumulate(ends[::-1])[::-1]
    return _Ground(
        crop=crop,
        days=days,
        factor=opening.growth(crop, year)[days.of_year],
        longest_d=opening.longest_d(crop, year)[days.of_year],
        may_plant=stands & (opening.reasons(crop, garden.site, year) == "")[days.of_year],
        run_end=np.where(stands, following - 1, -1),
    )


def _nearest(at: int) -> Iterator[int]:
    for away in range(1, SEARCH_DAYS + 1):
        yield at + away
        yield at - away


def _batch(ground: _Ground, planted: int, wished: date, kept: bool) -> Backward:
    crop, day = ground.crop, ground.days.day
    first = ground.reached(planted, crop.days.typical)
    again = crop.window_days.typical > 0.0
    last = ground.reached(planted, crop.bed_days) if again else first
    nursery = timedelta(days=round(crop.nursery_days.typical))
    slow = ground.factor[planted : last + 1] < STILL_FACTOR
    return Backward(
        crop=crop.key,
        wished=wished,
        kept=kept,
        sow=day(planted) - nursery if crop.from_seed and nursery else None,
        plant=day(planted),
        first_pick=day(first),
        early_pick=day(ground.reached(planted, crop.days.low)),
        late_pick=day(ground.reached(planted, crop.days.high)),
        last_pick=day(last) if again else None,
        stands_still=tuple(
            (day(planted + begin), day(planted + end - 1)) for begin, end in positions.spans(slow, STILL_DAYS)
        ),
    )
