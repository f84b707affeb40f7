"""Results as frames: what a chart draws, in the reader's units."""

from collections.abc import Sequence

import numpy as np
import pandas as pd

from aquacalc import words
from aquacalc.charts.axes import round_up
from aquacalc.sizing.result import Balance, Limit
from aquacalc.uncertainty import Band, Floats


def monthly_frame(band: Band, kind: str, reader: words.Reader) -> pd.DataFrame:
    """A band along the months of a plan in the reader's unit: columns place (0 to 11), low, middle, high."""
    low, middle, high = (_shown(values, kind, reader) for values in (band.low, band.middle, band.high))
    return pd.DataFrame({"place": np.arange(middle.size), "low": low, "middle": middle, "high": high})


def _shown(values: Floats, kind: str, reader: words.Reader) -> Floats:
    return np.array([words.convert(float(value), kind, reader) for value in np.atleast_1d(values)])


def limits_frame(balance: Balance, reader: words.Reader) -> pd.DataFrame:
    """The counted limits through the months: columns key, must, place, low, middle, high.

    Months in which a limit has no answer, or sets none, are left out.
    """
    frames = [
        monthly_frame(limit.feed_g_day, "feed", reader).assign(key=limit.key, must=limit.must)
        for limit in counted(balance)
    ]
    rows = pd.concat(frames, ignore_index=True)
    finite: pd.DataFrame = rows[np.isfinite(rows["middle"])]
    return finite


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


def spans_frame(result: Balance, month: int, reader: words.Reader) -> pd.DataFrame:
    """The counted limits of one month: columns key, name, must, low, middle, high, smallest middle first."""
    rows = [
        {"key": one.key, "name": words.limit(one.key, reader), "must": one.must}
        | of_month(one.feed_g_day, result.months.index(month), reader)
        for one in counted(result)
    ]
    frame = pd.DataFrame(rows)
    finite: pd.DataFrame = frame[np.isfinite(frame["middle"])]
    return finite.sort_values("middle", kind="stable", ignore_index=True)


def of_month(band: Band, position: int, reader: words.Reader) -> dict[str, float]:
    """A band in one month, given by its place in the plan: low, middle, high; with `_g` in grams a day."""
    ends = {"low": band.low[position], "middle": band.middle[position], "high": band.high[position]}
    shown = {end: words.convert(float(value), "feed", reader) for end, value in ends.items()}
    return shown | {f"{end}_g": float(value) for end, value in ends.items()}


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
