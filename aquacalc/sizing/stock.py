"""The stock through the twelve months of the plan: weights, kilograms, appetite."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish
from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR
from aquacalc.uncertainty import Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

LONGEST_HISTORY_DAYS = 5 * DAYS_PER_YEAR
"""Growth before the plan is followed back this far; older fish have reached their final weight."""
MOST_OF_APPETITE = 3.0
"""Weighed feed counts as this many times the appetite at most: in the cold an appetite is near nothing. Our
own choice, no source."""


@dataclass(frozen=True, eq=False)
class Stock:
    """Month means of the whole stock; arrays of shape (members, months) unless said otherwise.

    feed_g_day: appetite; kg: live weight; weight_g: mean weight of one fish (NaN without fish);
    count: fish, shape (months,); ration: g of feed per g of fish and day (NaN where nothing is eaten);
    final_feed_g: feed of one fish of final weight per day; final_weight_g: float.
    """

    feed_g_day: Floats
    kg: Floats
    weight_g: Floats
    count: Floats
    ration: Floats
    final_feed_g: Floats
    final_weight_g: float


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Growth and feed conversion of each species, by the names `fish.ID.tgc` and `fish.ID.fcr`."""
    found: dict[str, Triangle] = {}
    for species_id in sorted({batch.species for batch in garden.fish}):
        species = fish.species(species_id)
        found[f"fish.{species_id}.tgc"] = species.tgc
        found[f"fish.{species_id}.fcr"] = species.fcr
    return found


def correlations(garden: Garden) -> dict[tuple[str, str], float]:
    """Good care raises growth and lowers feed conversion together."""
    return {
        (f"fish.{species}.tgc", f"fish.{species}.fcr"): fish.GROWTH_FEED_CORRELATION
        for species in {batch.species for batch in garden.fish}
    }


def plan_months(start: date) -> tuple[int, ...]:
    """The twelve calendar months in the plan's order.

    >>> plan_months(date(2027, 11, 1))[:3]
    (11, 12, 1)
    """
    return tuple((start.month - 1 + k) % MONTHS_PER_YEAR + 1 for k in range(MONTHS_PER_YEAR))


def month_of_day(start: date) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Position in the plan (0 to 11) of each of its 365 days, by calendar month."""
    return np.array(
        [((start + timedelta(days=n)).month - start.month) % MONTHS_PER_YEAR for n in range(DAYS_PER_YEAR)]
    )


def stock_of(garden: Garden, daily_water_c: Floats, draw: Mapping[str, Floats]) -> Stock:
    """Grow every batch through the plan.

    daily_water_c: (members, 365), the first of January first; each year is taken to be alike.
    The appetite is that of fish fed to satiation; deaths are not counted, so that the plan does not rest on
    them. A batch that has reached its final weight keeps it and eats as at that weight until it is taken out.
    Where it was weighed, it grows on from there; where the feed was weighed, the fish are taken to get the
    same share of their appetite from that day on, and to grow by it.
    """
    start = garden.season.start
    position = month_of_day(start)
    fed = fed_as_weighed(garden, daily_water_c, draw)
    members = daily_water_c.shape[0]
    feed = np.zeros((members, DAYS_PER_YEAR))
    kg = np.zeros((members, DAYS_PER_YEAR))
    count = np.zeros(DAYS_PER_YEAR)
    final_feed = np.zeros((members, DAYS_PER_YEAR))
    whole = sum(batch.count for batch in garden.fish)
    for batch in garden.fish:
        weights, eaten, at_final, present = _batch(batch, start, daily_water_c, draw, fed)
        feed += batch.count * eaten * present
        kg += batch.count * weights * present / 1000.0
        count += batch.count * present
        final_feed += batch.count / max(whole, 1) * at_final
    monthly_count = _month_means(count[None, :], position)[0]
    monthly_kg = _month_means(kg, position)
    monthly_feed = _month_means(feed, position)
    with np.errstate(divide="ignore", invalid="ignore"):
        weight = np.where(monthly_count > 0, 1000.0 * monthly_kg / monthly_count, np.nan)
        ration = np.where(monthly_feed > 0, monthly_feed / (1000.0 * monthly_kg), np.nan)
    return Stock(
        feed_g_day=monthly_feed,
        kg=monthly_kg,
        weight_g=weight,
        count=monthly_count,
        ration=ration,
        final_feed_g=_month_means(final_feed, position),
        final_weight_g=sum(b.count * b.final_weight_g for b in garden.fish) / max(whole, 1),
    )


@dataclass(frozen=True, eq=False)
class Fed:
    """Feed as it was weighed, over the appetite, (members,), from a day on."""

    share: Floats
    since: date

    def nourishing(self, days: list[date]) -> Floats:
        """The share of the appetite by which fish grow on each of these days, (members, days): who gets more
        than they eat does not grow by it."""
        return np.minimum(self.on(days), 1.0)

    def on(self, days: list[date]) -> Floats:
        """The share on each of these days, (members, days); all of the appetite before the weighing."""
        later = np.array([day >= self.since for day in days])
        found: Floats = np.where(later, self.share[:, None], 1.0)
        return found


def appetite_g_day(garden: Garden, day: date, daily_water_c: Floats, draw: Mapping[str, Floats]) -> Floats:
    """Feed that the fish of a day would eat to satiation, g/d, (members,)."""
    eaten = np.zeros(daily_water_c.shape[0])
    for batch in garden.fish:
        _, each, _, present = _batch(batch, day, daily_water_c, draw, None)
        eaten += batch.count * each[:, 0] * present[0]
    return eaten


def weight_g(
    garden: Garden, name: str, day: date, daily_water_c: Floats, draw: Mapping[str, Floats]
) -> Floats:
    """What one fish of a batch weighs on a day, (members,)."""
    batch = next(batch for batch in garden.fish if batch.name == name)
    weights, *_ = _batch(batch, day, daily_water_c, draw, None)
    found: Floats = weights[:, 0]
    return found


def fed_as_weighed(garden: Garden, daily_water_c: Floats, draw: Mapping[str, Floats]) -> Fed | None:
    """Feed as it was weighed last, over the appetite of that day; None where none was weighed, and where no
    fish ate on that day. daily_water_c: as in `stock_of`. Source: own reckoning, by definition."""
    weighed = garden.last_measured("feed")
    if weighed is None or weighed.day is None:
        return None
    appetite = appetite_g_day(garden, weighed.day, daily_water_c, draw)
    if not np.median(appetite) > 0.0:
        return None
    with np.errstate(divide="ignore"):
        share = np.minimum(weighed.value / appetite, MOST_OF_APPETITE)
    return Fed(share, weighed.day)


def _batch(
    batch: FishBatch, start: date, daily_water_c: Floats, draw: Mapping[str, Floats], fed: Fed | None
) -> tuple[Floats, Floats, Floats, Floats]:
    """Weight, feed of one fish, feed of one fish of final weight (members, 365); presence (365,)."""
    species = fish.species(batch.species)
    tgc, fcr = draw[f"fish.{batch.species}.tgc"], draw[f"fish.{batch.species}.fcr"]
    before = min(max((start - batch.stocked).days, 0), LONGEST_HISTORY_DAYS)
    first = start - timedelta(days=before)
    day_of_year = np.array(
        [
            min((first + timedelta(days=n)).timetuple().tm_yday, DAYS_PER_YEAR) - 1
            for n in range(before + DAYS_PER_YEAR)
        ]
    )
    days = np.array([(start + timedelta(days=n)).toordinal() for n in range(DAYS_PER_YEAR)])
    present = (days >= batch.stocked.toordinal()).astype(np.float64)
    if batch.until is not None:
        present *= days <= batch.until.toordinal()
    effective = fish.growing_temperature_c(daily_water_c, species)[:, day_of_year]
    all_days = [first + timedelta(days=n) for n in range(before + DAYS_PER_YEAR)]
    share = np.ones((1, 1)) if fed is None else fed.on(all_days)
    nourished = effective if fed is None else effective * fed.nourishing(all_days)

    def grown_g(from_g: float, since: date) -> Floats:
        there = np.array([day >= since for day in all_days])
        reached = fish.weights_g(from_g, tgc[:, None], np.where(there, nourished, 0.0))
        found: Floats = np.minimum(
            reached[:, before : before + DAYS_PER_YEAR], max(batch.final_weight_g, from_g)
        )
        return found

    weights = grown_g(batch.weight_g, batch.stocked)
    if batch.weighed is not None and batch.weighed_g is not None:
        weights = np.where(
            days >= batch.weighed.toordinal(), grown_g(batch.weighed_g, batch.weighed), weights
        )
    effective = effective[:, before:]
    share = share[:, -DAYS_PER_YEAR:]

    def appetite(weight_g: Floats) -> Floats:
        conversion = fish.fcr_at_weight(fcr[:, None], weight_g)
        eaten = fish.daily_feed_g(weight_g, tgc[:, None], effective, conversion)
        return np.where(effective > 0.0, eaten, 0.0) * share

    return weights, appetite(weights), appetite(np.full_like(weights, batch.final_weight_g)), present


def _month_means(daily: Floats, position: np.ndarray[tuple[int], np.dtype[np.int64]]) -> Floats:
    """Means over the days of each month of the plan: (members, 365) to (members, 12)."""
    share = (position[:, None] == np.arange(MONTHS_PER_YEAR)).astype(np.float64)
    means: Floats = daily @ (share / share.sum(axis=0))
    return means
