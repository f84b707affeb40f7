"""What is to be done and what is to be expected, day by day: tasks, feed, first picks, fish of size.

As keys and amounts; sentences are made elsewhere. What the tries do not agree on has the median of their days
and the span beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal, get_args

import numpy as np

from aquacalc import fish
from aquacalc.agenda import when
from aquacalc.agenda.beds import Grown
from aquacalc.agenda.other_water import DryTime
from aquacalc.agenda.ration import Ration
from aquacalc.agenda.stocking import Leaving, Stocking
from aquacalc.agenda.supplies import Supply, filter_food_to_mg_l
from aquacalc.agenda.visits import Visit
from aquacalc.agenda.when import When
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.garden import litres
from aquacalc.harvest import fish as of_fish
from aquacalc.schedule import absences, positions
from aquacalc.schedule.task import Task, TaskKey
from aquacalc.schedule.tasks import LEAST_PAUSE_DAYS
from aquacalc.season import rules
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

ExpectedKey = Literal[
    "feed", "bag", "of_size", "pick", "pick_once", "supplement", "change", "other_water", "visit"
]
"""feed: the ration from a day on, g/day; bag: the same in the bags of a sitter; of_size: the first fish of
size; pick, pick_once: first picks of a crop that is picked for a while, and of one that is cut once;
supplement: a test, month by month, of what the season gave the water; change: a test, and part of the water
changed where it finds too much nitrate; other_water: before the rain barrel is
dry; visit: an absence, through which somebody else looks after the garden, or nobody."""

TOLD_OTHERWISE: tuple[TaskKey, ...] = (
    "ration",
    "garden_day",
    "pick_from",
    "pick_to",
    "clear",
    "feed_stop",
    "feed_again",
)
"""Tasks of a usual year that the tries tell instead: the week's feed for the first two, the span of first
picks for the third, the clearing for the last pick, the water for the feed."""

ORDER: tuple[str, ...] = (*get_args(TaskKey), *get_args(ExpectedKey))
HALF = 0.5
SMOOTHED_DAYS = 7
"""Days over which the share of tries that rest is averaged: a single cold day stops no feeding. Practice."""


@dataclass(frozen=True)
class Entry:
    """One entry.

    day, last: first and last day, the same where it is one; span: the median of the tries and their
    spread, None where the day is decided; subject: batch of fish, key of a crop, kind of a supply, or who
    comes; place: tank or bed; count, count_low, count_high: fish, seeds or plants; grams, low_g, high_g:
    feed in g/day, of picks what the batch yields in all, of fish their weight, NaN where not told;
    spoons: level spoons of feed, 0 where it is weighed, each of spoon_g; waits: whether it is done only
    after two good tests; why: what fish are taken out for, empty where as planned; under, to: a reading
    below which something is given and up to which, mg/L; of a change of water above which; during, low_l,
    high_l: a dry time and the litres that are missing in it, or those of a change of water, whose subject is
    what disinfects the top-up; moved_from: the day on which it would have fallen, where an absence moved it;
    away: who looks after the garden on the first day, None where the grower is there, empty where nobody
    is; mark: what it is about, by which entries of one day keep their order.
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
    spoons: float = 0.0
    span: When | None = None
    count_low: float = math.nan
    count_high: float = math.nan
    waits: bool = False
    why: str = ""
    under: float = math.nan
    to: float = math.nan
    during: tuple[date, date] | None = None
    low_l: float = math.nan
    high_l: float = math.nan

    @property
    def of_crop(self) -> bool:
        """Whether the subject is a crop."""
        return self.key in ("sow", "plant", "pick_from", "pick_to", "clear", "pick", "pick_once")


def entries_of(
    run: SeasonRun,
    garden: Garden,
    tasks: Iterable[Task],
    rations: Iterable[Ration] = (),
    stockings: Iterable[Stocking] = (),
    leavings: Iterable[Leaving] = (),
    grown: Iterable[Grown] = (),
    supplies: Sequence[Supply] = (),
    dry: Iterable[DryTime] = (),
    visits: Iterable[Visit] = (),
) -> tuple[Entry, ...]:
    """The entries of a season by day.

    tasks: `schedule.tasks.tasks_of` the same garden.
    """
    comes = {one.batch: one for one in stockings}
    goes = {one.batch: one for one in leavings}
    batches = tuple(grown)
    found = [
        *_tasks(garden, tasks, comes, goes),
        *_feeding(run, garden),
        *_feed(rations),
        *_picks(batches, garden),
        *_clearings(batches, garden),
        *_of_size(run, garden),
        *_supplements(run, garden, supplies),
        *_changes(run, garden),
        *_other_water(run, garden, dry),
        *_visits(run, visits),
    ]
    return tuple(sorted(found, key=_order))


def _order(one: Entry) -> tuple[date, int, str, str, str]:
    return one.day, ORDER.index(one.key), one.subject, one.place, one.mark


def _tasks(
    garden: Garden, tasks: Iterable[Task], comes: Mapping[str, Stocking], goes: Mapping[str, Leaving]
) -> Iterator[Entry]:
    """Tasks whose day is decided, with the conditions and numbers of the fish that come and go."""
    for task in tasks:
        if task.key in TOLD_OTHERWISE:
            continue
        leaving = goes.get(task.subject) if task.key == "take" else None
        coming = comes.get(task.subject) if task.key == "stock" else None
        yield Entry(
            day=task.day,
            last=task.day,
            key=task.key,
            subject=task.subject,
            place=task.place,
            mark=(task.moved_from or task.day).isoformat(),
            count=task.count if leaving is None else leaving.count,
            grams=task.grams,
            moved_from=task.moved_from,
            away=task.away,
            count_low=math.nan if leaving is None else leaving.low,
            count_high=math.nan if leaving is None else leaving.high,
            waits=coming is not None and coming.conditional,
            why="" if leaving is None or leaving.reason == "planned" else leaving.reason,
            under=rules.FOOD_FROM_TAN_MG_L if task.key == "filter_food" else math.nan,
            to=filter_food_to_mg_l(garden) if task.key == "filter_food" else math.nan,
        )


def _feed(rations: Iterable[Ration]) -> Iterator[Entry]:
    """The first day of each ration that is not the same as the one before; nothing where nobody feeds."""
    before: dict[str, Ration] = {}
    for one in rations:
        last, before[one.batch] = before.get(one.batch), one
        same = last is not None and (last.grams, last.away) == (one.grams, one.away)
        if same or one.start_up or not one.grams > 0.0:
            continue
        yield Entry(
            day=one.first,
            last=one.first,
            key="feed" if one.away is None else "bag",
            subject=one.batch,
            place=one.tank,
            mark=one.first.isoformat(),
            grams=one.grams,
            low_g=one.low_g,
            high_g=one.high_g,
            spoon_g=one.spoon_g,
            spoons=one.spoons,
            away=one.away,
        )


def _feeding(run: SeasonRun, garden: Garden) -> Iterator[Entry]:
    """Days on which the water leaves and enters the temperatures at which fish are fed."""
    for place, batch in enumerate(garden.fish):
        there = np.flatnonzero(np.median(run.fish["count"][place], axis=0) >= HALF)
        if not there.size:
            continue
        first, last = int(there[0]), int(there[-1])
        water = run.daily["water_c"][:, first : last + 1]
        share = _smoothed(np.mean(~fish.eats(water, fish.species(batch.species)), axis=0))
        for begin, end in positions.spans(share >= HALF, LEAST_PAUSE_DAYS):
            yield _crossing(run, garden, batch, "feed_stop", first, begin, share)
            if first + end <= last:
                yield _crossing(run, garden, batch, "feed_again", first, end, 1.0 - share)


def _smoothed(share: Floats) -> Floats:
    """A running mean that is shorter at both ends."""
    ones = np.ones(SMOOTHED_DAYS)
    sums: Floats = np.convolve(share, ones, "same") / np.convolve(np.ones_like(share), ones, "same")
    return sums if share.size >= SMOOTHED_DAYS else share


def _crossing(
    run: SeasonRun, garden: Garden, batch: FishBatch, key: TaskKey, first: int, at: int, share: Floats
) -> Entry:
    """A day on which half of the tries have changed sides, from the first tenth to the last."""
    before = np.flatnonzero(share[:at] < TENTH)
    after = np.flatnonzero(share[at:] > 1.0 - TENTH)
    turned = np.flatnonzero(share[at:] < HALF)
    ends = turned[0] if turned.size else share.size - at
    low = int(before[-1]) + 1 if before.size else 0
    # Where not even nine tenths change before it turns again, the span ends with the turn.
    high = at + int(after[0] if after.size and after[0] < ends else max(ends - 1, 0))
    day = run.date(first + at)
    return Entry(
        day=day,
        last=day,
        key=key,
        subject=batch.name,
        place=batch.tank,
        mark=day.isoformat(),
        away=absences.who(day, garden),
        span=When(day, run.date(first + low), run.date(first + high)),
    )


TENTH = 0.1


def _picks(grown: Iterable[Grown], garden: Garden) -> Iterator[Entry]:
    for one in grown:
        if one.first is None:
            continue
        yield Entry(
            day=one.first.first,
            last=one.first.last,
            key="pick_once" if one.cut_once else "pick",
            subject=one.batch.crop,
            place=one.batch.bed,
            mark=one.key,
            grams=1000.0 * float(one.kg.middle),
            low_g=1000.0 * float(one.kg.low),
            high_g=1000.0 * float(one.kg.high),
            away=absences.who(one.first.first, garden),
            span=one.first,
        )


def _clearings(grown: Iterable[Grown], garden: Garden) -> Iterator[Entry]:
    for one in grown:
        if one.cleared is not None:
            yield Entry(
                day=one.cleared,
                last=one.cleared,
                key="clear",
                subject=one.batch.crop,
                place=one.batch.bed,
                mark=one.key,
                away=absences.who(one.cleared, garden),
                span=one.last,
            )


def _of_size(run: SeasonRun, garden: Garden) -> Iterator[Entry]:
    for place, batch in enumerate(garden.fish):
        span = when.of_tries(of_fish.first_of_size(run, place, batch), run)
        if span is None or not of_fish.eaten(batch):
            continue
        yield Entry(
            day=span.first,
            last=span.last,
            key="of_size",
            subject=batch.name,
            place=batch.tank,
            mark=batch.stocked.isoformat(),
            grams=batch.final_weight_g,
            away=absences.who(span.first, garden),
            span=span,
        )


def _supplements(run: SeasonRun, garden: Garden, supplies: Sequence[Supply]) -> Iterator[Entry]:
    """A test on the first garden day of each month in which the season gives something; one that an absence
    moves to the day of another month's is that one. What feeds a filter without fish has its own."""
    for kind in dict.fromkeys(one.kind for one in supplies if one.kind != "filter_food"):
        own = [one for one in supplies if one.kind == kind]
        days: set[date] = set()
        for month in sorted({month for one in own for month in one.months}):
            ahead = (absences.garden_day(garden) - month.weekday()) % DAYS_PER_WEEK
            day, moved_from = absences.moved(month + timedelta(days=ahead), garden)
            if 0 <= run.day(day) < run.days and day not in days:
                days.add(day)
                yield Entry(
                    day=day,
                    last=day,
                    key="supplement",
                    subject=kind,
                    place="",
                    mark=f"{kind} {month.isoformat()}",
                    under=own[0].under,
                    to=own[0].to,
                    moved_from=moved_from,
                    away=absences.who(day, garden),
                )


def _changes(run: SeasonRun, garden: Garden) -> Iterator[Entry]:
    """A test on each garden day on which half of the tries change water, and the litres of a change."""
    litres_ = garden.care.change_share * litres.litres_of(garden).whole
    for place in np.flatnonzero(np.mean(run.daily["changed_l"] > 0.0, axis=0) >= HALF):
        planned = run.date(int(place))
        day, moved_from = absences.moved(planned, garden)
        if 0 <= run.day(day) < run.days:
            yield Entry(
                day=day,
                last=day,
                key="change",
                subject=garden.top_up.disinfectant,
                place="",
                mark=planned.isoformat(),
                under=garden.care.change_above_mg_l,
                low_l=litres_,
                high_l=litres_,
                moved_from=moved_from,
                away=absences.who(day, garden),
            )


def _visits(run: SeasonRun, visits: Iterable[Visit]) -> Iterator[Entry]:
    for one in visits:
        first, last = max(one.start, run.first), min(one.end, run.date(run.days - 1))
        yield Entry(day=first, last=last, key="visit", subject=one.who, place="", mark=one.start.isoformat())


def _other_water(run: SeasonRun, garden: Garden, dry: Iterable[DryTime]) -> Iterator[Entry]:
    for one in dry:
        day = max(one.before, run.first)
        yield Entry(
            day=day,
            last=day,
            key="other_water",
            subject="",
            place="",
            mark=one.first.isoformat(),
            during=(one.first, one.last),
            low_l=one.low_l,
            high_l=one.high_l,
            away=absences.who(day, garden),
        )
