"""What is to be done and what is to be expected, day by day: tasks, feed, first picks, fish of size.

As keys and amounts; sentences are made elsewhere. What is not known to the day is a span of weeks, feed that
lies far ahead a range.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal, get_args

import pandas as pd

from aquacalc import crops
from aquacalc.harvest import crops as picking
from aquacalc.harvest import fish, spans, weeks
from aquacalc.schedule import absences
from aquacalc.schedule.task import Task, TaskKey
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

SURE_DAYS = 42
"""Days from the first on for which the feed is told as one amount; beyond, the water is not known so well
(our own choice)."""

ExpectedKey = Literal["feed", "feed_range", "of_size", "pick", "pick_once"]
"""feed: of the week, g/day; feed_range: the same, far ahead; of_size: the first fish of size; pick,
pick_once: first picks of a crop that is picked for a while, and of one that is cut once."""

TOLD_OTHERWISE: tuple[TaskKey, ...] = ("ration", "garden_day", "pick_from")
"""Tasks that are not told by themselves: the week's feed stands for the first two, the span of first picks
for the third."""

ORDER: tuple[str, ...] = (*get_args(TaskKey), *get_args(ExpectedKey))


@dataclass(frozen=True)
class Entry:
    """One entry.

    day, last: first and last day, the same where it is one; subject: batch of fish, or key of a crop;
    place: tank or bed; count: fish, seeds or plants; grams, low_g, high_g: feed in g/day, of picks what the
    batch yields in all, of fish their weight, NaN where not told; spoon_g: what a level spoon of feed holds;
    moved_from: the day on which it would have fallen, where an absence moved it; away: who looks after the
    garden on the first day, None where the grower is there, empty where nobody is; mark: what it is about, by
    which it is known again in another run of the same garden.
    """

    day: date
    last: date
    key: TaskKey | ExpectedKey
    subject: str
    place: str
    mark: str
    count: float = math.nan
    grams: float = math.nan
    low_g: float = math.nan
    high_g: float = math.nan
    spoon_g: float = math.nan
    moved_from: date | None = None
    away: str | None = None

    @property
    def of_crop(self) -> bool:
        """Whether the subject is a crop."""
        return self.key in ("sow", "plant", "pick_from", "pick_to", "clear", "pick", "pick_once")


def entries_of(run: SeasonRun, garden: Garden, tasks: Iterable[Task]) -> tuple[Entry, ...]:
    """The entries of a season by day.

    tasks: `schedule.tasks.of` of the same garden.
    """
    expected = [*_feed(run, garden), *_picks(run, garden), *_fish(run, garden)]
    return tuple(sorted([*_tasks(run, garden, tuple(tasks)), *expected], key=_order))


def _order(one: Entry) -> tuple[date, int, str, str, str]:
    return one.day, ORDER.index(one.key), one.subject, one.place, one.mark


def _tasks(run: SeasonRun, garden: Garden, tasks: Sequence[Task]) -> Iterator[Entry]:
    cleared = {(task.day, task.subject, task.place) for task in tasks if task.key == "clear"}
    for task in tasks:
        with_clearing = task.key == "pick_to" and (task.day, task.subject, task.place) in cleared
        if task.key in TOLD_OTHERWISE or with_clearing:
            continue
        planned = task.moved_from or task.day
        yield Entry(
            day=task.day,
            last=task.day,
            key=task.key,
            subject=task.subject,
            place=task.place,
            mark=planned.isoformat(),
            count=_left(run, garden, task) if task.key == "take" else task.count,
            grams=task.grams,
            moved_from=task.moved_from,
            away=task.away,
        )


def _left(run: SeasonRun, garden: Garden, task: Task) -> float:
    """How many fish are taken out with a batch's last day; as stocked where that lies beyond the season."""
    place, batch = next((n, one) for n, one in enumerate(garden.fish) if one.name == task.subject)
    day = run.days if batch.until is None else run.day(batch.until)
    return float(band(run.fish["taken"][place][:, day]).middle) if 0 <= day < run.days else task.count


def _feed(run: SeasonRun, garden: Garden) -> Iterator[Entry]:
    arrives = {batch.name: batch.stocked for batch in garden.fish}
    for row in spans.records(weeks.by_batch(run, garden)):
        if not row["feed_high_g_day"] > 0.0:
            continue
        week: date = row["week_start"].date()
        sure = (week - run.first).days < SURE_DAYS
        if sure and not row["feed_middle_g_day"] > 0.0:
            continue
        day = max(week, run.first, arrives[row["batch"]])
        yield Entry(
            day=day,
            last=day,
            key="feed" if sure else "feed_range",
            subject=row["batch"],
            place=row["tank"],
            mark=week.isoformat(),
            grams=row["feed_middle_g_day"],
            low_g=row["feed_low_g_day"],
            high_g=row["feed_high_g_day"],
            spoon_g=row["spoon_g"],
            away=absences.who(day, garden),
        )


def _picks(run: SeasonRun, garden: Garden) -> Iterator[Entry]:
    for row in spans.records(picking.batches(run, garden)):
        if pd.isna(row["first_pick_low"]):
            continue
        first, last = _weeks(row["first_pick_low"].date(), row["first_pick_high"].date(), run, garden)
        once = crops.crop(row["crop"]).window_days.typical == 0.0
        yield Entry(
            day=first,
            last=last,
            key="pick_once" if once else "pick",
            subject=row["crop"],
            place=row["bed"],
            mark=f"{row['plan']} {row['plant'].date().isoformat()}",
            grams=1000.0 * row["kg_middle"],
            low_g=1000.0 * row["kg_low"],
            high_g=1000.0 * row["kg_high"],
            away=absences.who(first, garden),
        )


def _fish(run: SeasonRun, garden: Garden) -> Iterator[Entry]:
    for row, batch in zip(spans.records(fish.plan(run, garden)), garden.fish, strict=True):
        if pd.isna(row["first_of_size_low"]) or not fish.eaten(batch):
            continue
        first, last = _weeks(row["first_of_size_low"].date(), row["first_of_size_high"].date(), run, garden)
        yield Entry(
            day=first,
            last=last,
            key="of_size",
            subject=batch.name,
            place=batch.tank,
            mark=batch.stocked.isoformat(),
            grams=batch.final_weight_g,
            away=absences.who(first, garden),
        )


def _weeks(low: date, high: date, run: SeasonRun, garden: Garden) -> tuple[date, date]:
    """The span of whole weeks, from garden day to garden day, that holds two days; cut to the season."""
    weekday = absences.garden_day(garden)
    first = low - timedelta(days=(low.weekday() - weekday) % spans.WEEK_DAYS)
    last = high + timedelta(days=(weekday - 1 - high.weekday()) % spans.WEEK_DAYS)
    return max(first, run.first), min(last, run.date(run.days - 1))
