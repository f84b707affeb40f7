"""Batches of crops through the season, in a usual year.

Growth is thermal time, slowed by little light (`aquacalc.crops`). A plan with heads a week gets a batch for
each week's harvest, counted backward; any other plan fills its area, is picked through its window and planted
anew while the next batch would still be ready.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops
from aquacalc.crops import Crop
from aquacalc.garden import opening, usual_year
from aquacalc.garden.usual_year import UsualYear
from aquacalc.schedule import absences, positions
from aquacalc.schedule.batch import BatchState, CropBatch
from aquacalc.schedule.positions import Days
from aquacalc.uncertainty import Floats, coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import CropPlan, Garden

HISTORY_DAYS = 730
"""Days before the season that are followed to find what stands on its first day."""
AHEAD_DAYS = 730
"""Days after the season that are followed to see when its last batches would be ready."""
GAP_DAYS = 1
"""From the last pick to the next planting: 0 to 2 (common practice, no source)."""
STILL_FACTOR = 0.02
STILL_DAYS = 7
"""Growth below this share of the reference, for so many days or more, counts as standing still."""

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Cropping:
    """All batches of a season, plan by plan, and for each plan the weeks whose heads found no room."""

    batches: tuple[CropBatch, ...]
    weeks_without_room: tuple[int, ...]


def batches(garden: Garden) -> tuple[CropBatch, ...]:
    """The batches of the season, in the order of the plans and by day of planting."""
    return cropping(garden).batches


def cropping(garden: Garden) -> Cropping:
    """The batches of the season, and the weeks that found no room."""
    year = usual_year.usual_year_of(garden)
    days = positions.around(garden.season, HISTORY_DAYS, AHEAD_DAYS)
    found: list[CropBatch] = []
    without_room = []
    for position in range(len(garden.crops)):
        ground = ground_of(garden, position, year, days)
        placed, left_out = _weekly(ground) if ground.plan.heads_per_week > 0.0 else (_whole(ground), 0)
        found += _in_season(ground, placed)
        without_room.append(left_out)
    return Cropping(tuple(found), tuple(without_room))


# The ground


@dataclass(frozen=True, eq=False)
class Ground:
    """What a plan finds day by day; arrays over the days.

    factor: growth, in days at the reference temperature; longest_d: growth at which a head that is ready on
    the day has to be cut; may_plant: days on which it may be set out;
    next_planting: the first of them from a day on; run_end: last day of the unbroken span in which it may
    stand (-1 where it may not); from_day: nothing is planted before.
    """

    garden: Garden
    position: int
    crop: Crop
    days: Days
    factor: Floats
    longest_d: Floats
    may_plant: Mask
    next_planting: NDArray[np.int64]
    run_end: NDArray[np.int64]
    from_day: int

    @property
    def plan(self) -> CropPlan:
        """The plan itself."""
        return self.garden.crops[self.position]

    @property
    def density_m2(self) -> float:
        """Plants on an area, the grower's own or the table's."""
        return self.plan.plants_m2 or self.crop.plants_m2.typical

    @property
    def loss(self) -> float:
        """Share of the plants that are lost in the bed, the grower's own or the usual one."""
        own = self.plan.loss_pct
        return coefficient("loss_bed").typical if own is None else own / 100.0

    def reached(self, planted: int, reference_days: float) -> float:
        """Day on which a batch has so many days of growth behind it; infinite where none is."""
        return planted + float(crops.days_to_harvest(self.factor[planted:], reference_days))


def ground_of(garden: Garden, position: int, year: UsualYear, days: Days) -> Ground:
    """What the plan at a position of `garden.crops` finds in a usual year."""
    plan = garden.crops[position]
    crop = crops.crop(plan.crop)
    in_months = np.isin(days.month, plan.months)
    if plan.last is not None:
        in_months[max(days.position(plan.last) + 1, 0) :] = False
    stands = in_months & opening.standing(crop, garden.site, year)[days.of_year]
    may_plant = stands & (opening.reasons(crop, garden.site, year) == "")[days.of_year]
    from_day = 0
    if garden.start_up.state == "new":
        from_day = days.start  # nothing stands in a loop that is only being started
    if plan.first is not None:
        first = days.position(_out_of_absence_in_months(plan.first, garden, plan.months))
        _first_planting(first, in_months, stands, may_plant)
        from_day = min(max(from_day, first), days.count - 1)
    may_plant[:from_day] = False
    return Ground(
        garden=garden,
        position=position,
        crop=crop,
        days=days,
        factor=opening.growth(crop, year)[days.of_year],
        longest_d=opening.longest_d(crop, year)[days.of_year],
        may_plant=may_plant,
        next_planting=_next(may_plant),
        run_end=np.where(stands, _next(~stands) - 1, -1),
        from_day=from_day,
    )


def _out_of_absence_in_months(day: date, garden: Garden, months: Sequence[int]) -> date:
    nearer, _ = absences.moved(day, garden)
    return nearer if nearer.month in months else absences.around(day, garden)[1]


def _first_planting(day: int, in_months: Mask, stands: Mask, may_plant: Mask) -> None:
    """The grower's own day goes first: the crop lives from it on, until the climate takes it over."""
    if not 0 <= day < stands.size or not in_months[day]:
        return
    taken_over = int(_next(stands)[day])
    if taken_over < stands.size and in_months[day:taken_over].all():
        stands[day:taken_over] = True
        may_plant[day] = True


def _next(mask: Mask) -> NDArray[np.int64]:
    """First position from each one on where the mask holds; the length of the mask where none is."""
    places = np.where(mask, np.arange(mask.size), mask.size)
    found: NDArray[np.int64] = np.minimum.accumulate(places[::-1])[::-1]
    return found


# Placing


@dataclass(frozen=True)
class _Placed:
    """A batch by positions of days; `ready`, `done`: first and last pick, None where it is not reached."""

    planted: int
    leaves: int
    ready: int | None
    done: int | None
    area_m2: float
    plants: int


def _whole(ground: Ground) -> list[_Placed]:
    """Batches on the whole area of a plan, one after the other."""
    plan = ground.plan
    plants = max(math.floor(plan.area_m2 * ground.density_m2 + 1e-9), 1)
    found: list[_Placed] = []
    at, run = ground.from_day, -1
    # One batch beyond the season, so that the last one knows when its place is needed.
    while not found or found[-1].planted <= ground.days.end:
        planted = _planting_day(ground, at)
        if planted is None:
            break
        last = int(ground.run_end[planted])
        if ground.reached(planted, ground.crop.days.typical) > last:
            # It is told only where the span has had no other batch.
            if last != run:
                found.append(_Placed(planted, last, None, None, plan.area_m2, plants))
            at, run = last + 1, last
            continue
        picks = picking_days(ground, planted, last)
        if picks is None:  # it would be ready for nobody
            at = planted + 1
            continue
        found.append(_Placed(planted, last, *picks, plan.area_m2, plants))
        at, run = picks[1] + GAP_DAYS, last
    return [
        replace(one, leaves=min(one.leaves, following.planted - 1)) for one, following in pairwise(found)
    ] + found[-1:]


def picking_days(ground: Ground, planted: int, last: int) -> tuple[int, int] | None:
    """First and last pick of a batch, on days on which someone is there; None where there is none in time."""
    crop, days = ground.crop, ground.days
    first = days.day(int(ground.reached(planted, crop.days.typical)))
    ready = days.position(absences.around(first, ground.garden)[1])
    if ready > last:
        return None
    if crop.window_days.typical == 0.0:
        holds = ground.reached(planted, float(ground.longest_d[min(ready, days.count - 1)]))
        return (ready, ready) if ready <= holds else None
    window_ends = int(min(ground.reached(planted, crop.bed_days), last))
    done = _out_of_absence(ground, window_ends)
    if done > last:  # nobody is there until it has to leave
        done = days.position(absences.around(days.day(window_ends), ground.garden)[0])
    return ready, max(done, ready)


def _planting_day(ground: Ground, at: int) -> int | None:
    """First day from `at` on for planting on which someone is there; not earlier, as the bed is taken."""
    days = ground.days
    while at < days.count and (planned := int(ground.next_planting[at])) < days.count:
        at = days.position(absences.around(days.day(planned), ground.garden)[1])
        if at == planned:
            return planned
    return None


def _weekly(ground: Ground) -> tuple[list[_Placed], int]:
    """A batch for each week's heads, backward from its harvest, as long as the area has room on every day."""
    plan, days = ground.plan, ground.days
    plants = crops.transplants_for(plan.heads_per_week, ground.loss)
    area_m2 = plants / ground.density_m2
    taken = np.zeros(days.count)
    found: list[_Placed] = []
    without_room = 0
    for planned in _garden_days(ground):
        harvest = _out_of_absence(ground, planned)
        planted = _planting_for(ground, harvest)
        if planted is None:
            continue
        if np.max(taken[planted : harvest + 1]) + area_m2 > plan.area_m2 * (1.0 + 1e-9):
            without_room += days.start <= harvest <= days.end
            continue
        taken[planted : harvest + 1] += area_m2
        found.append(_Placed(planted, harvest, harvest, harvest, area_m2, plants))
    if not found and not without_room:
        return _never_ready(ground, area_m2, plants), 0
    return found, without_room


def _garden_days(ground: Ground) -> Iterator[int]:
    weekday = absences.garden_day(ground.garden)
    yield from (int(day) for day in np.flatnonzero(ground.days.weekday == weekday))


def _out_of_absence(ground: Ground, position: int) -> int:
    return ground.days.position(absences.moved(ground.days.day(position), ground.garden)[0])


def _planting_for(ground: Ground, harvest: int) -> int | None:
    """Day of planting for a harvest; earlier where planting will not do then, as long as heads hold."""
    days = ground.days
    latest = crops.planting_for_harvest(ground.factor, harvest, ground.crop.days.typical)
    if latest < 0:
        return None
    earliest = crops.planting_for_harvest(ground.factor, harvest, float(ground.longest_d[harvest]))
    for planted in range(latest, max(earliest, ground.from_day) - 1, -1):
        at_home = absences.away(days.day(planted), ground.garden) is None
        if ground.may_plant[planted] and at_home:
            return planted if ground.run_end[planted] >= harvest else None
    return None


def _never_ready(ground: Ground, area_m2: float, plants: int) -> list[_Placed]:
    planted = int(ground.next_planting[max(ground.days.start, ground.from_day)])
    if planted > ground.days.end:
        return []
    return [_Placed(planted, int(ground.run_end[planted]), None, None, area_m2, plants)]


# From positions to dates


def _in_season(ground: Ground, placed: list[_Placed]) -> list[CropBatch]:
    """The batches that are in the bed on a day of the season; one of state `closed` where none can be."""
    days = ground.days
    found = [
        _batch(ground, one)
        for one in placed
        if one.planted <= days.end
        and _ends(one) >= days.start
        and (one.done is not None or one.planted >= days.start)
    ]
    season = slice(days.start, days.end + 1)
    in_months = np.isin(days.month[season], ground.plan.months)
    if not found and in_months.any() and not ground.may_plant[season].any():
        return [_closed(ground, days.day(days.start + int(np.argmax(in_months))))]
    return found


def _ends(one: _Placed) -> int:
    return one.leaves if one.done is None else one.done


def _batch(ground: Ground, one: _Placed) -> CropBatch:
    days, crop = ground.days, ground.crop
    standing = one.planted < days.start
    planted = max(one.planted, days.start)
    state: BatchState = "standing" if standing else "too_late" if one.done is None else "planned"
    sow, seeds = (None, 0) if standing else _sowing(ground, one)
    return CropBatch(
        plan=ground.position,
        crop=crop.key,
        bed=ground.plan.bed,
        area_m2=one.area_m2,
        state=state,
        sow=sow,
        plant=days.day(planted),
        leaves=days.day(one.leaves),
        first_pick=None if one.ready is None else days.day(max(one.ready, planted)),
        last_pick=None if one.done is None else days.day(one.done),
        seeds=seeds,
        plants=one.plants,
        age_d=float(np.sum(ground.factor[one.planted : planted])),
        stands_still=_still(ground, planted, _ends(one)),
    )


def _sowing(ground: Ground, one: _Placed) -> tuple[date | None, int]:
    """Day of sowing before the planting, and seeds; nothing where young plants are bought or cut."""
    crop, garden = ground.crop, ground.garden
    seeds = crops.seeds_for(one.plants, crop.germination, coefficient("cull").typical)
    nursery = timedelta(days=round(crop.nursery_days.typical))
    planted = ground.days.day(one.planted)
    if not crop.from_seed:
        return None, 0
    if not nursery:
        return None, seeds
    sow, _ = absences.moved(planted - nursery, garden)
    return (sow, seeds) if garden.season.start <= sow < planted else (None, 0)


def _still(ground: Ground, first: int, last: int) -> tuple[tuple[date, date], ...]:
    slow = ground.factor[first : last + 1] < STILL_FACTOR
    return tuple(
        (ground.days.day(first + begin), ground.days.day(first + end - 1))
        for begin, end in positions.spans(slow, STILL_DAYS)
    )


def _closed(ground: Ground, day: date) -> CropBatch:
    plan = ground.plan
    return CropBatch(
        plan=ground.position,
        crop=plan.crop,
        bed=plan.bed,
        area_m2=plan.area_m2,
        state="closed",
        sow=None,
        plant=day,
        leaves=day,
        first_pick=None,
        last_pick=None,
        seeds=0,
        plants=0,
    )
