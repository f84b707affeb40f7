"""What a season that starts on a day takes over from the log, and what was done otherwise than planned."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from aquacalc import kits
from aquacalc.errors import InputError, Problem
from aquacalc.logbook import stock
from aquacalc.logbook.log import Beyond, Log, Reading
from aquacalc.logbook.plan import Batch, Garden, corrected

WATER = {
    "tan": "tan_mg_l",
    "nitrite": "nitrite_mg_l",
    "nitrate": "nitrate_mg_l",
    "alkalinity": "alkalinity_mg_l",
    "ph": "ph",
    "temperature": "water_c",
    "oxygen": "oxygen_mg_l",
}
"""Parameters of the log, and their names in a `Standing`; nitrogen as N, alkalinity as CaCO3."""

Missing = Literal["no reading", "too old", "basis"]
"""Why a value is not known; basis: nobody said what the last number counts."""

DifferenceKey = Literal["stocked_day", "stocked_count", "taken_early", "count_low"]


@dataclass(frozen=True)
class Known:
    """A value, its day, and whether the water may lie beyond it (see `Reading`)."""

    value: float
    day: date
    beyond: Beyond = ""


@dataclass(frozen=True)
class FishNow:
    """A batch of fish that is there. weight_g, weighed: mean of the samples of the last
    day with any, and that day, else None."""

    batch: str
    count: int
    weight_g: float | None = None
    weighed: date | None = None


@dataclass(frozen=True)
class CropNoted:
    """A crop that was picked, by its key. picked_g: all that the log notes. first, last: days of picking."""

    crop: str
    picked_g: float
    first: date
    last: date


@dataclass(frozen=True)
class Standing:
    """The garden on a day, as far as its log tells.

    water: by the names of `WATER`. missing: the other names, and why. feed: in g a day, None where none is
    noted. fish: batches that are there. crops: in the order of their first picking.
    """

    day: date
    water: Mapping[str, Known]
    missing: Mapping[str, Missing]
    feed: Known | None
    fish: tuple[FishNow, ...]
    crops: tuple[CropNoted, ...]


@dataclass(frozen=True)
class Difference:
    """One thing that was done otherwise than the garden file plans.

    key, planned, done:
    `stocked_day`: the days; `stocked_count`: the numbers of fish, `day` that of the last that came;
    `taken_early`: the day until which they were to stay, and how many were taken on `day` before it;
    `count_low`: how many there should be after what was stocked and taken, and how many there are on `day`.
    """

    day: date
    key: DifferenceKey
    subject: str
    planned: date | int
    done: date | int


def standing(garden: Garden, log: Log, day: date) -> Standing:
    """What a season that starts on `day` takes over; entries of that day count, later ones do not.

    Raises `InputError`: `problem-log-no-rows`; `problem-log-begins-later`, with the first day of the log.
    """
    if not log.rows:
        raise InputError(Problem("problem-log-no-rows", log.name, day.isoformat()))
    first = log.rows[0].day
    if first > day:
        raise InputError(Problem("problem-log-begins-later", log.name, day.isoformat(), (first.isoformat(),)))
    water: dict[str, Known] = {}
    missing: dict[str, Missing] = {}
    for parameter, name in WATER.items():
        last = log.last(parameter, day)
        why = _why_missing(last, day)
        if last is None or why is not None:
            missing[name] = why or "no reading"
        else:
            water[name] = Known(corrected(last, garden).value, last.day, last.beyond)
    feed = log.last("feed", day)
    return Standing(
        day=day,
        water=water,
        missing=missing,
        feed=None if feed is None else Known(feed.value, feed.day),
        fish=tuple(_fish(garden, log, day)),
        crops=tuple(_crops(log, day)),
    )


def _why_missing(last: Reading | None, day: date) -> Missing | None:
    if last is None:
        return "no reading"
    if day - last.day > timedelta(days=kits.OLDEST_DAYS):
        return "too old"
    # Nothing is nothing, whatever the number counts.
    return "basis" if last.basis == kits.NOT_KNOWN and last.value != 0.0 else None


def _fish(garden: Garden, log: Log, day: date) -> Iterator[FishNow]:
    for batch in garden.fish:
        count = stock.number(log, batch, day)
        if not count:
            continue
        weights = stock.of_batch(log, batch, "weight", day)
        if weights:
            last = [one.value for one in weights if one.day == weights[-1].day]
            yield FishNow(batch.name, count, sum(last) / len(last), weights[-1].day)
        else:
            yield FishNow(batch.name, count)


def _crops(log: Log, day: date) -> Iterator[CropNoted]:
    picked = [one for one in log.all("picked") if one.day <= day and one.value > 0.0]
    for crop in dict.fromkeys(one.subject for one in picked):
        of_crop = [one for one in picked if one.subject == crop]
        yield CropNoted(crop, sum(one.value for one in of_crop), of_crop[0].day, of_crop[-1].day)


def differences(garden: Garden, log: Log) -> list[Difference]:
    """What was done otherwise than planned, in order of days, as far as the log shows it."""
    found = [one for batch in garden.fish for one in _differences(batch, log)]
    return sorted(found, key=lambda one: one.day)


def _differences(batch: Batch, log: Log) -> Iterator[Difference]:
    came = stock.stocking(log, batch)
    if came:
        number = round(sum(one.value for one in came))
        if came[0].day != batch.stocked:
            yield Difference(came[0].day, "stocked_day", batch.name, batch.stocked, came[0].day)
        if number != batch.count:
            yield Difference(came[-1].day, "stocked_count", batch.name, batch.count, number)
    if batch.until is not None:
        for one in stock.of_batch(log, batch, "taken", batch.until - timedelta(days=1)):
            if one.value > 0.0 and not _heavy_enough(batch, log, one.day):
                yield Difference(one.day, "taken_early", batch.name, batch.until, round(one.value))
    yield from _losses(batch, log)


def _heavy_enough(batch: Batch, log: Log, day: date) -> bool:
    """Whether the last sample had reached the weight at which fish are taken out."""
    weights = stock.of_batch(log, batch, "weight", day)
    return bool(weights) and weights[-1].value >= batch.final_weight_g


def _losses(batch: Batch, log: Log) -> Iterator[Difference]:
    evidence = [one.day for parameter in ("count", "dead") for one in stock.of_batch(log, batch, parameter)]
    if not evidence:
        return
    day = max(evidence)
    there = stock.number(log, batch, day)
    expected = stock.expected(log, batch, day)
    if there is not None and expected is not None and there < expected:
        yield Difference(day, "count_low", batch.name, expected, there)
