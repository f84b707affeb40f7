"""A batch of fish alone: when it is of size and what it eats, in water whose temperature alone is known.

As in a season, but fed to appetite every day, in water that harms nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from aquacalc import fish
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.season import fishes, weather
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, Triangle, band, draw

LONGEST_D = 3 * DAYS_PER_YEAR
"""Days that are followed; a day beyond stands for what is not reached."""


@dataclass(frozen=True, eq=False)
class Question:
    """A batch: count of fish, weight of one and day on which they come, weight at which they are of size.

    water_c: by month, January first, (12,) or (members, 12). tgc: growth of this batch, where it was weighed
    before; else that of the species.
    """

    species: str
    count: float
    weight_g: float
    stocked: date
    final_g: float
    water_c: Floats
    tgc: Triangle | None = None


@dataclass(frozen=True)
class Grown:
    """The answer, as bands over the tries.

    first_d, half_d: days from stocking until the first and until half of the fish are of size, `LONGEST_D`
    + 1 where they are not within that time; count, kg: fish alive and their weight, feed_kg: what was eaten,
    all when half are of size or at the end; grows: share of the days until then on which the water lets
    them grow, in the middle.
    """

    first_d: Band
    half_d: Band
    count: Band
    kg: Band
    feed_kg: Band
    grows: float


@dataclass(frozen=True, eq=False)
class _Followed:
    """A batch day by day: warm: temperature that counts, weight: of one fish, alive: fish; fcr: a try."""

    warm: Floats
    weight: Floats
    alive: Floats
    fcr: Floats


def _followed(asked: Question, members: int, seed: int) -> _Followed:
    species = fish.species(asked.species)
    names = {"tgc": asked.tgc or species.tgc, "fcr": species.fcr, "loss": species.loss_pct}
    sampled = draw(
        {f"fish.{asked.species}.{name}": triangle for name, triangle in names.items()},
        members,
        seed,
        {(f"fish.{asked.species}.tgc", f"fish.{asked.species}.fcr"): fish.GROWTH_FEED_CORRELATION},
    )
    tgc, fcr, loss = (sampled[f"fish.{asked.species}.{name}"][:, None] for name in names)
    usual = months.monthly_to_daily(np.atleast_2d(asked.water_c))
    warm = fish.growing_temperature_c(usual[:, weather.day_of_year(asked.stocked, LONGEST_D)], species)
    weight = fish.weights_g(asked.weight_g, tgc, np.broadcast_to(warm, (members, LONGEST_D)))
    alive = asked.count * (1.0 - loss / 100.0 * _lost_share(np.arange(LONGEST_D + 1)))
    return _Followed(warm, weight, alive, fcr)


def grown(asked: Question, members: int = MEMBERS, seed: int = SEED) -> Grown:
    """How a batch grows up to its final weight."""
    followed = _followed(asked, members, seed)
    weight, alive = followed.weight, followed.alive
    first = _first(alive * fishes.share_above(asked.final_g, weight) >= min(1.0, asked.count))
    half = _first(weight >= asked.final_g)
    at = np.minimum(half, LONGEST_D)
    rows = np.arange(members)
    conversion = fish.fcr_at_weight(followed.fcr, weight[:, :-1])
    eaten_g = np.cumsum(conversion * np.diff(weight) * alive[:, :-1], axis=1)
    feed_kg = np.where(at > 0, eaten_g[rows, np.maximum(at - 1, 0)], 0.0) / 1000.0
    middle = round(float(band(at).middle))
    return Grown(
        first_d=band(np.minimum(first, half)),
        half_d=band(half),
        count=band(alive[rows, at]),
        kg=band(alive[rows, at] * weight[rows, at] / 1000.0),
        feed_kg=band(feed_kg),
        grows=float(np.mean(np.median(followed.warm, axis=0)[:middle] > 0.0)) if middle else 1.0,
    )


def days_to_kg(asked: Question, kg: float, members: int = MEMBERS, seed: int = SEED) -> Band:
    """Days until the whole batch weighs so much; `LONGEST_D` + 1 where it does not within that time."""
    followed = _followed(asked, members, seed)
    return band(_first(followed.alive * followed.weight >= 1000.0 * kg))


def feed_kg_within(
    asked: Question, days: int, most_g_day: float, members: int = MEMBERS, seed: int = SEED
) -> Band:
    """Feed eaten in so many days, kg, never more than `most_g_day` a day."""
    followed = _followed(asked, members, seed)
    weight = followed.weight[:, : days + 1]
    each = fish.fcr_at_weight(followed.fcr, weight[:, :-1]) * np.diff(weight)
    return band(np.minimum(each * followed.alive[:, :days], most_g_day).sum(axis=1) / 1000.0)


def weights_on(asked: Question, days: int, members: int = MEMBERS, seed: int = SEED) -> Band:
    """Mean weight of one fish, g, so many days after the day of the question, up to `LONGEST_D`."""
    return band(_followed(asked, members, seed).weight[:, days])


def _lost_share(days: NDArray[np.int64]) -> Floats:
    """Share of a grow-out's losses behind a batch after so many days: half in the first month."""
    month = np.minimum(days, fishes.FIRST_MONTH_D) / fishes.FIRST_MONTH_D
    rest = np.clip(days - fishes.FIRST_MONTH_D, 0, fishes.GROW_OUT_D) / fishes.GROW_OUT_D
    share: Floats = (month + rest) / 2.0
    return share


def _first(reached: NDArray[np.bool_]) -> Floats:
    found: Floats = np.where(reached.any(axis=1), reached.argmax(axis=1), LONGEST_D + 1)
    return found
