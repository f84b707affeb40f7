"""What the charts of the balance draw, in the reader's units."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import words
from aquacalc.charts.axes import round_up
from aquacalc.sizing.result import Balance, Limit
from aquacalc.uncertainty import Band


@dataclass(frozen=True)
class Span:
    """What a part can carry in one month, from low to high: in the reader's unit; with `_g` in grams a day.

    must: whether it must not be exceeded.
    """

    key: str
    name: str
    must: bool
    low: float
    middle: float
    high: float
    low_g: float
    high_g: float


def counted(balance: Balance) -> list[Limit]:
    """The limits that are compared with the demand and have an answer in at least one month."""
    return [one for one in balance.limits if one.counts and np.isfinite(one.feed_g_day.middle).any()]


def top_of(*results: Balance) -> float:
    """A round upper end of the feed axis, g/day: room for the demand and each limit that comes near it."""
    highest = max(float(np.nanmax(result.demand.feed_g_day.high)) for result in results)
    lowest = [float(np.nanmin(one.feed_g_day.middle)) for result in results for one in counted(result)]
    return round_up(1.05 * max([highest, *(low for low in lowest if low < 1.5 * highest)]))


def worst_month(result: Balance) -> int:
    """The calendar month in which the demand comes nearest to its limit; without one, that of most feed."""
    if result.binding is not None:
        return result.binding.month
    return result.months[int(np.nanargmax(result.demand.feed_g_day.middle))]


def spans_of(result: Balance, month: int, reader: words.Reader) -> list[Span]:
    """The counted limits of one month that have an answer and set a limit, smallest middle first."""
    place = result.months.index(month)
    spans = [of_month(one.key, one.must, one.feed_g_day, place, reader) for one in counted(result)]
    return sorted((one for one in spans if np.isfinite(one.middle)), key=lambda one: one.middle)


def of_month(key: str, must: bool, band: Band, place: int, reader: words.Reader) -> Span:
    """A band in one month, given by its place in the plan; without a key it has no name."""
    ends = [float(end[place]) for end in (band.low, band.middle, band.high)]
    low, middle, high = (words.convert(end, "feed", reader) for end in ends)
    name = words.limit(key, reader) if key else ""
    return Span(key, name, must, low, middle, high, low_g=ends[0], high_g=ends[2])


def top_of_spans(
    results: Sequence[Balance], month: int, reader: words.Reader, top_g_day: float | None
) -> float:
    """End of the feed axis of one month, in the reader's unit; round and roomy unless it is given."""
    # Far limits are cut at the axis and keep their figure, so that the near ones stay readable.
    if top_g_day is None:
        near = [
            float(one.feed_g_day.middle[result.months.index(month)])
            for result in results
            for one in counted(result)
        ]
        demand = max(float(np.nanmax(result.demand.feed_g_day.high)) for result in results)
        top_g_day = round_up(max([1.05 * demand, *(1.1 * place for place in near if place < 2.0 * demand)]))
    return words.convert(top_g_day, "feed", reader)
