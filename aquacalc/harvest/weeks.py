"""The season week by week: feed, water, base, top-up. Weeks begin on the garden day."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.harvest import spans
from aquacalc.schedule import absences, feed
from aquacalc.season import rules
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

MORNINGS = (
    ("tan", "mg_l"),
    ("nitrite", "mg_l"),
    ("nitrate", "mg_l"),
    ("alkalinity", "mg_l"),
    ("ph", ""),
)
"""Names of `season.result.DAILY` whose mornings are averaged, and their units."""

BY_BATCH = (
    "week_start", "batch", "tank", "feed_low_g_day", "feed_middle_g_day", "feed_high_g_day",
    "weight_middle_g", "spoon_g", "feed_spoons",
)  # fmt: skip
BY_PRODUCT = ("week_start", "product", "low_g", "middle_g", "high_g")


def weeks(run: SeasonRun, garden: Garden) -> pd.DataFrame:
    """One row a week, from the first garden day on or before the season's first day.

    week_start; days: days of the week that lie in the season, the first and last week may be short;
    feed_*_g_day: mean of the days with feed; feed_spoons: the middle in level spoons of the bag for the mean
    weight of all fish there; water_*_c: mean; base_*_g: the week's base in grams of the products on the
    shelf, base_product: their keys joined by `+` (each by itself: `by_product`); top_up_*_l: of the week;
    tan_*, nitrite_*, nitrate_*_mg_l as N, alkalinity_*_mg_l as CaCO3, ph_*: mean of the mornings;
    oxygen_min_*_mg_l: lowest of the week. low, middle, high: band over the members.
    """
    found = spans.weeks(run, absences.garden_day(garden))
    fed = _feed(run.daily["feed_g"], found)
    spoons = [
        feed.in_spoons(float(grams), feed.spoon_g(garden, weight))
        for grams, weight in zip(fed.middle, _mean_weights_g(run, found), strict=True)
    ]
    shelf = rules.bases(garden)
    base = spans.by_span(run.daily["base_eq"], found, "sum")
    grams_eq = sum(one.share * one.grams_eq for one in shelf)
    data: dict[str, Any] = {
        "week_start": pd.to_datetime([first for first, _ in found]).astype("datetime64[ns]"),
        "days": [days.stop - days.start for _, days in found],
        **spans.columns("feed", fed, "g_day"),
        "feed_spoons": spoons,
        **spans.columns("water", spans.by_span(run.daily["water_c"], found, "mean"), "c"),
        **spans.columns("base", _times(base, grams_eq), "g"),
        "base_product": "+".join(one.key for one in shelf),
        **spans.columns("top_up", spans.by_span(run.daily["top_up_l"], found, "sum"), "l"),
    }
    for name, unit in MORNINGS:
        daily = run.daily[f"{name}_{unit}" if unit else name]
        data |= spans.columns(name, spans.by_span(daily, found, "mean"), unit)
    lowest = spans.by_span(run.daily["oxygen_min_mg_l"], found, "min")
    return pd.DataFrame(data | spans.columns("oxygen_min", lowest, "mg_l"))


def by_batch(run: SeasonRun, garden: Garden) -> pd.DataFrame:
    """The week's feed of each batch of fish, week by week; as `weeks`.

    weight_middle_g: mean weight of its fish in the week, by which the bag is chosen, NaN where there are
    none; spoon_g: what a level spoon of that bag holds.
    """
    found = spans.weeks(run, absences.garden_day(garden))
    rows = []
    for place, batch in enumerate(garden.fish):
        fed = _feed(run.fish["feed_g"][place], found)
        weight = run.fish["weight_g"][place]
        for week, (first, days) in enumerate(found):
            grams = [float(end[week]) for end in (fed.low, fed.middle, fed.high)]
            middle_g = float(band(_mean(weight[:, days])).middle)
            spoon = feed.spoon_g(garden, middle_g) if middle_g > 0.0 else feed.spoon_g(garden)
            values = (first, batch.name, batch.tank, *grams, middle_g, spoon, feed.in_spoons(grams[1], spoon))
            rows.append(dict(zip(BY_BATCH, values, strict=True)))
    return spans.frame(rows, BY_BATCH, ("week_start",))


def by_product(run: SeasonRun, garden: Garden) -> pd.DataFrame:
    """The week's grams of each base of the shelf, week by week."""
    found = spans.weeks(run, absences.garden_day(garden))
    base = spans.by_span(run.daily["base_eq"], found, "sum")
    rows = []
    for one in rules.bases(garden):
        grams = _times(base, one.share * one.grams_eq)
        for week, (first, _) in enumerate(found):
            values = (first, one.key, *(float(end[week]) for end in (grams.low, grams.middle, grams.high)))
            rows.append(dict(zip(BY_PRODUCT, values, strict=True)))
    return spans.frame(rows, BY_PRODUCT, ("week_start",))


def _feed(daily_g: Floats, found: spans.Spans) -> Band:
    """One amount a day for each week, as a band; days before the season count as days without feed."""
    missing = DAYS_PER_WEEK - (found[0][1].stop - found[0][1].start) if len(found) > 1 else 0
    whole = np.concatenate([np.zeros((daily_g.shape[0], missing)), daily_g], axis=1)
    return band(feed.weekly_steps(whole), axis=0)


def _times(values: Band, factor: float) -> Band:
    return Band(values.low * factor, values.middle * factor, values.high * factor)


def _mean(values: Floats) -> Floats:
    """Mean of each row's numbers; NaN where it has none."""
    known = ~np.isnan(values)
    count = np.count_nonzero(known, axis=1)
    total = np.where(known, values, 0.0).sum(axis=1)
    return np.where(count > 0, total / np.maximum(count, 1), np.nan)


def _mean_weights_g(run: SeasonRun, found: spans.Spans) -> list[float]:
    """Mean weight of all fish of the middle run, week by week; infinite where there are none."""
    kg, count = run.typical["fish_kg"], run.typical["fish.count"].sum(axis=0)
    sums = [(float(kg[days].sum()), float(count[days].sum())) for _, days in found]
    return [1000.0 * weight / fish if fish > 0.0 else float("inf") for weight, fish in sums]
