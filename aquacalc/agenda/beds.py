"""Batches of crops as the tries grow them: when they are picked, and when their place is cleared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops
from aquacalc.agenda import when
from aquacalc.agenda.when import SURE_DAYS, When
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.harvest import spans
from aquacalc.schedule import absences
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

HALF = 0.5
OFTEN_SHORT = 0.25
"""A batch that picks nothing in so many of the tries is named. Our own choice."""


@dataclass(frozen=True)
class Grown:
    """A batch; place: its position in the run.

    first, last: its first and last pick, None where fewer than half of the tries pick; cleared: the day on
    which its place is cleared, None where it was cut once and empty by itself, or stands on after the season;
    ends: the last day in its bed, also after the season; kg: what is picked of it in the season; short: share
    of the tries that pick nothing in the season, also where only its end comes too early; ready_in_time:
    whether a usual year picks it well before the season ends.
    """

    place: int
    batch: CropBatch
    first: When | None
    last: When | None
    cleared: date | None
    ends: date
    kg: Band
    short: float
    ready_in_time: bool

    @property
    def key(self) -> str:
        """By which its days and amounts are known wherever they are printed.

        Batches that stand at the beginning share their plan and their day: the place tells them apart.
        """
        return f"batch {self.batch.plan} {self.batch.plant.isoformat()} {self.place:03d}"

    @property
    def bought(self) -> bool:
        """Whether it comes as young plants or cuttings, without a sowing here."""
        return self.batch.state == "planned" and self.batch.seeds == 0

    @property
    def may_fail(self) -> bool:
        """Whether so many tries pick nothing of it that it is named; near the end of the plan nothing picked
        only means that the plan ends."""
        return self.ready_in_time and self.short >= OFTEN_SHORT

    @property
    def cut_once(self) -> bool:
        """Whether it is cut all at once; else it is picked for a while."""
        return crops.crop(self.batch.crop).window_days.typical == 0.0

    def days(self, run: SeasonRun) -> tuple[int, int]:
        """The days of the season on which it is in its bed: the first, and the day after the last."""
        return max(run.day(self.batch.plant), 0), min(run.day(self.ends) + 1, run.days)


def beds(run: SeasonRun, garden: Garden) -> tuple[Grown, ...]:
    """The batches of a season, in the order of the run.

    A place is cleared on a garden day after the last pick of nine tries in ten, and no later than its batch
    has to leave.
    """
    return tuple(_grown(run, garden, place) for place in range(len(run.batches)))


def _grown(run: SeasonRun, garden: Garden, place: int) -> Grown:
    batch, picked = run.batches[place], run.crops["picked_kg"][place]
    some, usual = picked > 0.0, batch.first_pick
    found = Grown(
        place=place,
        batch=batch,
        first=when.of_tries(spans.first_days(some), run),
        last=when.of_tries(spans.last_days(some), run),
        cleared=None,
        ends=batch.leaves,
        kg=band(picked.sum(axis=1)),
        short=float(np.mean(~some.any(axis=1))),
        ready_in_time=usual is not None and run.day(usual) < run.days - SURE_DAYS,
    )
    if np.median(run.crops["stands"][place][:, -1]) >= HALF or not batch.in_bed:
        return found
    if found.last is None:
        # Nothing is picked of it in most tries, and it makes room all the same.
        return _cleared(found, batch.leaves, run)
    if found.cut_once:
        return replace(found, ends=found.last.last)
    weekday = absences.garden_day(garden)
    planned = found.last.last + timedelta(days=(weekday - found.last.last.weekday()) % DAYS_PER_WEEK)
    moved, _ = absences.moved(planned, garden)
    return _cleared(found, max(found.last.last, min(moved, batch.leaves)), run)


def _cleared(found: Grown, day: date, run: SeasonRun) -> Grown:
    """A batch whose place is cleared on a day; what lies after the season is not told."""
    return replace(found, ends=day, cleared=day if run.day(day) < run.days else None)


@dataclass(frozen=True)
class Lot:
    """A batch, or the weekly batches of one plan that are planted in one month."""

    batches: tuple[Grown, ...]
    kg: Band

    @property
    def one(self) -> Grown:
        """The first of its batches."""
        return self.batches[0]

    @property
    def first(self) -> tuple[date, date] | None:
        """From the first to the last day of the first picks; None where no batch is picked."""
        return _spread([one.first for one in self.batches])

    @property
    def last(self) -> tuple[date, date] | None:
        """The same for the last picks."""
        return _spread([one.last for one in self.batches])


def _spread(found: Sequence[When | None]) -> tuple[date, date] | None:
    known = [one for one in found if one is not None]
    return (min(one.first for one in known), max(one.last for one in known)) if known else None


def lots(grown: Sequence[Grown], run: SeasonRun, garden: Garden) -> tuple[Lot, ...]:
    """The batches of a season, weekly ones of a month together, in their order."""

    def key(one: Grown) -> tuple[object, ...]:
        weekly = garden.crops[one.batch.plan].heads_per_week > 0.0
        planted = one.batch.plant
        return (one.batch.plan, one.batch.state, planted.year, planted.month) if weekly else (one.place,)

    found = []
    for _, group in groupby(grown, key=key):
        own = tuple(group)
        kg = run.crops["picked_kg"][[one.place for one in own]].sum(axis=(0, 2))
        found.append(Lot(own, band(kg, axis=0)))
    return tuple(found)
