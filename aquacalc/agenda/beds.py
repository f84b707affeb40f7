"""Batches of crops as the tries grow them: when they are picked, and when their place is cleared."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops
from aquacalc.agenda import when
from aquacalc.agenda.when import When
from aquacalc.harvest import spans
from aquacalc.schedule import absences
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

HALF = 0.5


@dataclass(frozen=True)
class Grown:
    """A batch; place: its position in the run.

    first, last: its first and last pick, None where fewer than half of the tries pick; cleared: the day on
    which its place is cleared, None where it was cut once and empty by itself, or stands on after the season;
    ends: the last day in its bed, also after the season; kg: what is picked of it in the season; short: share
    of the tries that pick nothing in the season, also where only its end comes too early.
    """

    place: int
    batch: CropBatch
    first: When | None
    last: When | None
    cleared: date | None
    ends: date
    kg: Band
    short: float

    @property
    def key(self) -> str:
        """By which its days and amounts are known wherever they are printed."""
        return f"batch {self.batch.plan} {self.batch.plant.isoformat()}"

    @property
    def bought(self) -> bool:
        """Whether it comes as young plants or cuttings, without a sowing here."""
        return self.batch.state == "planned" and self.batch.seeds == 0

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
    some = picked > 0.0
    found = Grown(
        place=place,
        batch=batch,
        first=when.of_tries(spans.first_days(some), run),
        last=when.of_tries(spans.last_days(some), run),
        cleared=None,
        ends=batch.leaves,
        kg=band(picked.sum(axis=1)),
        short=float(np.mean(~some.any(axis=1))),
    )
    if np.median(run.crops["stands"][place][:, -1]) >= HALF or not batch.in_bed:
        return found
    if found.last is None:
        # Nothing is picked of it in most tries, and it makes room all the same.
        return _cleared(found, batch.leaves, run)
    if found.cut_once:
        return replace(found, ends=found.last.last)
    weekday = absences.garden_day(garden)
    planned = found.last.last + timedelta(days=(weekday - found.last.last.weekday()) % spans.WEEK_DAYS)
    moved, _ = absences.moved(planned, garden)
    return _cleared(found, max(found.last.last, min(moved, batch.leaves)), run)


def _cleared(found: Grown, day: date, run: SeasonRun) -> Grown:
    """A batch whose place is cleared on a day; what lies after the season is not told."""
    return replace(found, ends=day, cleared=day if run.day(day) < run.days else None)
