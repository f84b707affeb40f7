"""The readings of a log against the season of its garden, run from the first day of the log.

A reading is in the band where what its kit allows and the 10th to 90th percentile of the tries overlap. The
season counts in the morning, so that pH read after noon is left out.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache

from aquacalc import kits
from aquacalc.advice import log_water
from aquacalc.errors import InputError
from aquacalc.garden.model import FishBatch, Garden, Season
from aquacalc.logbook import clock, stock, today, trend
from aquacalc.logbook.log import Log, Reading
from aquacalc.schedule import problems
from aquacalc.season import from_log, plan
from aquacalc.season.result import SeasonRun

MEMBERS = 60
"""Tries: enough for a band that readings are compared with. Our own choice."""

MOST_DAYS = 365
"""Of a longer log the last year is compared."""

FEWEST_DAYS = 28
"""A season is run for so many days at least."""

COMPARED = ("tan", "nitrite", "nitrate", "ph", "temperature", "alkalinity")

HALF_C = 0.5
"""Error of a thermometer (practice, `water` section 14)."""

KEPT = 4


@dataclass(frozen=True)
class Compared:
    """One parameter of a log against the season.

    inside, above, below: readings in the band and beyond it, in order of days. apart: readings of days on
    which the log has fish and the garden file has none, or the other way round; they are not compared.
    """

    parameter: str
    inside: tuple[Reading, ...]
    above: tuple[Reading, ...]
    below: tuple[Reading, ...]
    apart: tuple[Reading, ...]

    @property
    def count(self) -> int:
        """Readings that were compared."""
        return len(self.inside) + len(self.above) + len(self.below)


def as_it_was(garden: Garden, log: Log) -> Garden:
    """The garden with the span of its log as its season, and with its fish as they came by the log."""
    last = log.rows[-1].day
    first = max(log.rows[0].day, last - timedelta(days=MOST_DAYS - 1))
    end = max(last, first + timedelta(days=FEWEST_DAYS - 1))
    batches = tuple(_as_stocked(batch, log) for batch in garden.fish)
    return replace(garden, season=Season(first, end), fish=batches)


def _as_stocked(batch: FishBatch, log: Log) -> FishBatch:
    came = stock.stocking(log, batch)
    if not came:
        return batch
    return replace(batch, stocked=came[0].day, count=round(sum(one.value for one in came)))


@lru_cache(maxsize=KEPT)
def season(garden: Garden, log: Log, members: int = MEMBERS) -> SeasonRun:
    """The season of a garden over the span of its log, begun with what the log says of its first day.

    Raises `InputError` where no season can be run: problems of the plan, and a log without a day.
    """
    then = as_it_was(garden, log)
    if strange := problems.problems(then):
        raise InputError(strange)
    begin = from_log.start(then, log, from_log.standing(then, log))
    return plan.of_garden(then, members=members, start=begin)


def compared(garden: Garden, log: Log, run: SeasonRun) -> tuple[Compared, ...]:
    """Each parameter of `COMPARED` that was read within the season."""
    found = (_compared(garden, log, run, parameter) for parameter in COMPARED)
    return tuple(one for one in found if one.count or one.apart)


def _compared(garden: Garden, log: Log, run: SeasonRun, parameter: str) -> Compared:
    band = run.band(today.WATER[parameter])
    sorted_: dict[str, list[Reading]] = {"inside": [], "above": [], "below": [], "apart": []}
    for one in log.all(parameter):
        day = run.day(one.day)
        if not 0 <= day < run.days or (one.basis == kits.NOT_KNOWN and one.value != 0.0):
            continue
        if parameter == "ph" and one.hour is not None and one.hour >= clock.NOON:
            continue
        if parameter != "temperature" and not _same_fish(garden, log, run, one.day):
            sorted_["apart"].append(one)
            continue
        low, high = _ends(one, garden)
        where = "above" if low > band.high[day] else "below" if high < band.low[day] else "inside"
        sorted_[where].append(one)
    return Compared(parameter, *(tuple(sorted_[name]) for name in ("inside", "above", "below", "apart")))


def _ends(reading: Reading, garden: Garden) -> tuple[float, float]:
    if reading.parameter == "temperature" and not reading.half:
        return reading.value - HALF_C, reading.value + HALF_C
    found = trend.interval(reading, garden)
    return found.low, found.high


def _same_fish(garden: Garden, log: Log, run: SeasonRun, day: date) -> bool:
    """Whether log and season both have fish on a day, or both none."""
    planned = float(run.band("fish_kg").middle[run.day(day)]) > 0.0
    return planned == log_water.fish_are_there(garden, log, day)


def span_of(readings: Sequence[Reading]) -> tuple[date, date]:
    """First and last day of readings."""
    return readings[0].day, readings[-1].day
