"""From fish, batches of crops and the calendar to dated tasks.

Chemicals are never ordered by date: `filter_food` and `test` stand for a test and what it tells. Work that
falls into an absence is moved (`absences.moved`); what the water tells falls on whoever is there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, get_args

from aquacalc import crops, fish
from aquacalc.climate import months
from aquacalc.garden import usual_year
from aquacalc.schedule import absences, positions
from aquacalc.schedule.batch import CropBatch
from aquacalc.schedule.task import Task, TaskKey

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

ORDER: tuple[TaskKey, ...] = get_args(TaskKey)

FAST_COLD_BELOW_C = 15.0
FAST_DAYS_WARM = 2
FAST_DAYS_COLD = 3
"""Last feed before fish are taken for the kitchen: 24 to 48 h ahead, 48 to 72 h below 15 C; the longer
of each (common practice, no source)."""
FAST_DAYS_MOVED = 1
"""Before fish that are not eaten are handled (common practice, no source)."""
LEAST_PAUSE_DAYS = 7
"""Shorter pauses of feeding are not told: a usual year is not known to the week."""
FILTER_FOOD_DAYS = 42
"""A filter without fish is looked after for six weeks before they come (common practice, no source)."""


def fast_days(cold: bool, eaten: bool) -> int:
    """Whole days without feed before a batch leaves."""
    if not eaten:
        return FAST_DAYS_MOVED
    return FAST_DAYS_COLD if cold else FAST_DAYS_WARM


def tasks_of(garden: Garden, batches: Sequence[CropBatch]) -> tuple[Task, ...]:
    """The tasks of the season by day."""
    found = [
        *_fish(garden),
        *_feeding(garden),
        *_once(_filter_food(garden)),
        *_crops(garden, batches),
        *_once(_tests(garden)),
    ]
    season = garden.season
    inside = (task for task in found if season.start <= task.day <= season.end)
    return tuple(sorted(inside, key=lambda task: (task.day, ORDER.index(task.key), task.subject, task.place)))


def _task(
    garden: Garden, planned: date, key: TaskKey, subject: str = "", place: str = "", count: float = math.nan
) -> Task:
    """A task on its day, moved out of an absence."""
    day, moved_from = absences.moved(planned, garden)
    return Task(day, key, subject, place, count, moved_from=moved_from, away=absences.who(day, garden))


def _once(tasks: Iterable[Task]) -> list[Task]:
    """One task a day; where an absence moved one to the day of another, that other one."""
    by_day = {task.day: task for task in sorted(tasks, key=lambda task: task.moved_from is None)}
    return list(by_day.values())


def _fixed(garden: Garden, day: date, key: TaskKey, batch: FishBatch) -> Task:
    """A task that waits for nobody."""
    return Task(day, key, batch.name, batch.tank, away=absences.who(day, garden))


def _fish(garden: Garden) -> Iterator[Task]:
    water = usual_year.usual_year_of(garden).water_c
    for batch in garden.fish:
        yield _task(garden, batch.stocked, "stock", batch.name, batch.tank, batch.count)
        if batch.until is None:
            continue
        take = _task(garden, batch.until, "take", batch.name, batch.tank, batch.count)
        yield take
        cold = water[months.day_of_year(take.day.month, take.day.day)] < FAST_COLD_BELOW_C
        days = fast_days(cold, batch.eaten)
        yield _fixed(garden, take.day - timedelta(days=days), "fast", batch)


def present(garden: Garden) -> dict[str, tuple[date, date]]:
    """First and last day of each batch of fish that is there in the season, moved out of absences."""
    season = garden.season
    found = {}
    for batch in garden.fish:
        first = max(absences.moved(batch.stocked, garden)[0], season.start)
        last = season.end if batch.until is None else min(absences.moved(batch.until, garden)[0], season.end)
        if first <= last:
            found[batch.name] = (first, last)
    return found


def _feeding(garden: Garden) -> Iterator[Task]:
    """Days on which the water of a usual year leaves and enters the temperatures at which fish are fed."""
    season = garden.season
    water = usual_year.usual_year_of(garden).water_c[positions.around(season).of_year]
    spans = present(garden)
    for batch in garden.fish:
        if batch.name not in spans:
            continue
        first, last = ((day - season.start).days for day in spans[batch.name])
        rests = ~fish.eats(water[first : last + 1], fish.species(batch.species))
        for begin, end in positions.spans(rests, LEAST_PAUSE_DAYS):
            yield _fixed(garden, season.start + timedelta(days=first + begin), "feed_stop", batch)
            if first + end <= last:
                yield _fixed(garden, season.start + timedelta(days=first + end), "feed_again", batch)


def _filter_food(garden: Garden) -> Iterator[Task]:
    """The garden days of the weeks before fish come into a loop without any."""
    started = garden.start_up.started or date.min
    for batch in garden.fish:
        arrives, _ = absences.moved(batch.stocked, garden)
        for ahead in range(1, FILTER_FOOD_DAYS + 1):
            day = arrives - timedelta(days=ahead)
            alone = any(one.stocked <= day and (one.until is None or day <= one.until) for one in garden.fish)
            if day.weekday() == absences.garden_day(garden) and not alone and day >= started:
                yield _task(garden, day, "filter_food")


def _crops(garden: Garden, batches: Sequence[CropBatch]) -> Iterator[Task]:
    for one in batches:
        if not one.in_bed:
            continue
        if one.sow is not None:
            yield _task(garden, one.sow, "sow", one.crop, one.bed, one.seeds)
        if one.state == "planned":
            in_place = crops.crop(one.crop).nursery_days.typical == 0.0
            key: TaskKey = "sow" if in_place else "plant"
            yield _task(garden, one.plant, key, one.crop, one.bed, one.seeds if in_place else one.plants)
        if one.first_pick is not None and one.last_pick is not None:
            yield _task(garden, one.first_pick, "pick_from", one.crop, one.bed)
            if one.first_pick < one.last_pick:
                # A single cut leaves the bed empty by itself.
                yield _task(garden, one.last_pick, "pick_to", one.crop, one.bed)
                yield _task(garden, one.ends, "clear", one.crop, one.bed)


def _tests(garden: Garden) -> Iterator[Task]:
    season = garden.season
    for n in range((season.end - season.start).days + 1):
        day = season.start + timedelta(days=n)
        if day.weekday() == absences.garden_day(garden):
            yield _task(garden, day, "test")
