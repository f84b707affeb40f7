"""The ration: one amount a day for each batch and week, as a spoon or a scale measures it.

The middle of the tries decides; the tries themselves get no more than oxygen and filter carry. For fish that
come only after two good tests those tries count whose filter is ready for them. A week is cut where an
absence begins or ends and where fish that have just come are given more; in an absence the amount is that of
a sitter's bag, the same through each of its months.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from aquacalc import fish
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.schedule import absences, feed
from aquacalc.season.fishes import ARRIVAL_SHARES, SUDDEN_C
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

MOST_SPOONS = 6.0
"""More spoons than that nobody counts right: they are weighed. Common practice, no source."""
WEIGHED_DIGITS = 2
LEAST_WEIGHED_G = 0.5
"""Less is weighed too roughly, and is no feed. Common practice, no source."""
BACK_TO_SHARE = 1e-9
AT_THE_CAP = 1.0 - 1e-5
"""Tries are kept in single precision."""
HALF = 0.5
ENOUGH_READY = 0.1
"""Share of the tries whose filter must be ready for the fish, so that they alone decide what these are given;
with fewer all do. Our own choice."""


@dataclass(frozen=True)
class Ration:
    """Feed of a batch on each day of a span, one amount.

    grams: of a day, 0 where there is no feed; spoons: the same in level spoons of the bag for fish of this
    weight, 0 where it is weighed; low_g, high_g: 10th and 90th percentile of the tries; capped: whether most
    tries get all that they may have, and would want more; away: who looks after the garden, None
    where the grower is there, empty where nobody is; weight_g: mean weight of a fish, NaN where not known;
    start_up: whether these are the first days over a filter that is being started up, or days after them on
    which most tries still wait for it; they have a sheet of their own by the tests of those days.
    """

    batch: str
    tank: str
    first: date
    last: date
    grams: float
    spoons: float
    spoon_g: float
    low_g: float
    high_g: float
    weight_g: float
    capped: bool = False
    away: str | None = None
    start_up: bool = False

    @property
    def key(self) -> str:
        """By which its amount is known wherever it is printed."""
        return f"ration {self.batch} {self.first.isoformat()}"

    @property
    def days(self) -> int:
        """How many days it is given on."""
        return (self.last - self.first).days + 1

    def touches(self, first: date, last: date) -> bool:
        """Whether it is given on one of the days."""
        return self.first <= last and self.last >= first


def rations(run: SeasonRun, garden: Garden) -> tuple[Ration, ...]:
    """The rations of all batches, by batch and day; no two of a batch share a day."""
    wanted = [one for place, batch in enumerate(garden.fish) for one in _of_batch(run, garden, place, batch)]
    cap = np.array(run.most_feed_g_day)
    total = _total_g_day(run, wanted)
    with np.errstate(divide="ignore", invalid="ignore"):
        # The middles of several batches may make more than the middle of all of them.
        share = np.where(total > cap, cap / total, 1.0)
    held = np.median(run.daily["feed_g"], axis=0) > cap * AT_THE_CAP
    raw = [
        replace(
            one,
            grams=one.grams * float(share[_slice(run, one)].min()),
            capped=one.grams > 0.0 and bool(held[_slice(run, one)].any()),
        )
        for one in wanted
    ]
    near = [_measured(one, up=True) for one in raw]
    over = _total_g_day(run, near) > cap
    # What rounding has lifted over the cap is rounded down instead.
    return tuple(
        _measured(one, up=False) if over[_slice(run, one)].any() else rounded
        for one, rounded in zip(raw, near, strict=True)
    )


def _total_g_day(run: SeasonRun, given: Iterable[Ration]) -> Floats:
    total = np.zeros(run.days)
    for one in given:
        total[_slice(run, one)] += one.grams
    return total


def _of_batch(run: SeasonRun, garden: Garden, place: int, batch: FishBatch) -> Iterator[Ration]:
    """The spans of a batch with what the middle of the tries gives on their days with feed."""
    fed, weights = run.fish["feed_g"][place], run.fish["weight_g"][place]
    hungry = fish.eats(run.daily["water_c"], fish.species(batch.species))
    arrives = _arrives(run, garden, batch)
    waits = garden.start_up.state == "new" and 0 <= arrives < run.days
    if waits:
        # They come only when two tests were good: the tries count whose filter is ready on their day.
        ready = _fed_at_first(fed, hungry, arrives)
        if np.mean(ready) >= ENOUGH_READY:
            fed, weights, hungry = fed[ready], weights[ready], hungry[ready]
    for first, last in _spans(run, garden, batch):
        days = slice(first, last + 1)
        amounts = _mean_fed(fed[:, days])
        weight = _mean_known(weights[:, days])
        day = run.date(first)
        begins = first - arrives < len(ARRIVAL_SHARES)
        # The filter holds the feed back, and not the cold, where most tries would eat and do not.
        held = amounts.middle == 0.0 and np.median(hungry[:, days]) >= HALF
        waits = waits and (begins or bool(held))
        yield Ration(
            batch=batch.name,
            tank=batch.tank,
            first=day,
            last=run.date(last),
            grams=float(amounts.middle),
            spoons=0.0,
            spoon_g=feed.spoon_g(garden, weight) if weight > 0.0 else feed.spoon_g(garden),
            low_g=float(amounts.low),
            high_g=float(amounts.high),
            weight_g=weight,
            away=absences.who(day, garden),
            start_up=waits,
        )


def _fed_at_first(fed_g: Floats, hungry: NDArray[np.bool_], arrives: int) -> NDArray[np.bool_]:
    """Tries whose water lets fish that come be fed on each of their first days on which they eat."""
    days = slice(arrives, arrives + len(ARRIVAL_SHARES))
    ready: NDArray[np.bool_] = np.all((fed_g[:, days] > 0.0) | ~hungry[:, days], axis=1)
    return ready


def _arrives(run: SeasonRun, garden: Garden, batch: FishBatch) -> int:
    """The day of the season on which a batch comes; before the first where it was there already."""
    return run.day(absences.moved(batch.stocked, garden)[0])


def _spans(run: SeasonRun, garden: Garden, batch: FishBatch) -> Iterator[tuple[int, int]]:
    """First and last day of each span of one amount, while the batch is there."""
    arrives = _arrives(run, garden, batch)
    leaves = run.days if batch.until is None else run.day(absences.moved(batch.until, garden)[0])
    weekday = absences.garden_day(garden)

    def label(day: int) -> tuple[object, ...]:
        when = run.date(day)
        away = absences.away(when, garden)
        if away is not None:
            return away.start, when.year, when.month
        since = day - arrives
        share = ARRIVAL_SHARES[since] if 0 <= since < len(ARRIVAL_SHARES) and arrives >= 0 else 1.0
        return when - timedelta(days=(when.weekday() - weekday) % DAYS_PER_WEEK), share

    days = range(max(arrives, 0), min(leaves, run.days))
    for _, group in groupby(days, key=label):
        own = list(group)
        yield own[0], own[-1]


def _mean_fed(daily_g: Floats) -> Band:
    """Mean of the days with feed of each try; 0 in a try without any."""
    fed = np.count_nonzero(daily_g > 0.0, axis=1)
    return band(daily_g.sum(axis=1, dtype=np.float64) / np.maximum(fed, 1))


def _mean_known(weight_g: Floats) -> float:
    known = weight_g[~np.isnan(weight_g)]
    return float(np.median(known)) if known.size else math.nan


def _slice(run: SeasonRun, one: Ration) -> slice:
    return slice(run.day(one.first), run.day(one.last) + 1)


def _measured(one: Ration, up: bool) -> Ration:
    grams, spoons = measured(one.grams, one.spoon_g, up)
    return replace(one, grams=grams, spoons=spoons)


def measured(grams: float, spoon_g: float, up: bool = True) -> tuple[float, float]:
    """An amount as it is measured: grams, and level spoons, 0 where it is weighed.

    In halves of a spoon, below half a spoon in quarters, up to six spoons; else in grams of two digits. To
    the nearest step, without `up` to the one below.

    >>> measured(12.0, 5.0), measured(12.0, 5.0, up=False), measured(149.0, 5.0)
    ((12.5, 2.5), (10.0, 2.0), (150.0, 0.0))
    """
    spoons = feed.in_spoons(grams, spoon_g)
    if spoons * spoon_g > grams * (1.0 + BACK_TO_SHARE) and not up:
        step = feed.HALF if spoons > feed.HALF else feed.QUARTER
        spoons -= step
    if 0.0 < spoons <= MOST_SPOONS:
        return spoons * spoon_g, spoons
    if grams < LEAST_WEIGHED_G:
        return 0.0, 0.0
    step_g = 10.0 ** (math.floor(math.log10(grams)) - WEIGHED_DIGITS + 1)
    rounded = round(grams / step_g) if up else math.floor(grams / step_g + BACK_TO_SHARE)
    return rounded * step_g, 0.0


@dataclass(frozen=True)
class Steps:
    """When the amount is changed: all eaten so soon on three days running, left so late, both in minutes;
    oxygen_mg_l: before feeding, under which there is less; change_c: from one day to the next likewise."""

    eaten_min: int
    left_min: int
    oxygen_mg_l: float
    change_c: float


EATEN_MIN = 5
LEFT_MIN = {"warm": 10, "cold": 15}
"""Minutes in which all is eaten, and after which pellets are left, for fish of warm and of cold water. Common
practice, no source."""


def steps(species: Iterable[fish.Species]) -> Steps:
    """When fish get more and when less, the strictest of several species."""
    kinds = tuple(species)
    return Steps(
        eaten_min=EATEN_MIN,
        left_min=max(LEFT_MIN["warm" if kind.group == "W" else "cold"] for kind in kinds),
        oxygen_mg_l=max(kind.oxygen_full_feed_mg_l for kind in kinds),
        change_c=SUDDEN_C,
    )


def boundaries(found: Iterable[Ration], first: date, last: date) -> tuple[tuple[date, date], ...]:
    """Spans of days of a time on which no ration changes, also where a batch comes or goes.

    Days that a start-up's own sheet tells of are one span.
    """
    touching = [one for one in found if one.touches(first, last)]
    edges = {max(one.first, first) for one in touching}
    edges |= {one.last + timedelta(days=1) for one in touching if one.last < last}
    begins = sorted(edges)
    ends = [begin - timedelta(days=1) for begin in begins[1:]]
    spans: list[tuple[date, date]] = []
    before: tuple[Ration, ...] = ()
    for begin, end in zip(begins, [*ends, last] if begins else (), strict=True):
        given = on_day(touching, begin)
        if spans and _by_sheet(given) and _by_sheet(given) == _by_sheet(before):
            spans[-1] = (spans[-1][0], end)
        elif given:
            spans.append((begin, end))
        before = given
    return tuple(spans)


def _by_sheet(given: Iterable[Ration]) -> tuple[str, ...]:
    """The batches of a day, where all of them are fed by a start-up's own sheet."""
    found = tuple(given)
    return tuple(one.batch for one in found) if all(one.start_up for one in found) else ()


def on_day(found: Iterable[Ration], day: date) -> tuple[Ration, ...]:
    """What is given on a day, one a batch."""
    return tuple(one for one in found if one.first <= day <= one.last)
