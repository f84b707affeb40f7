"""A few fish on the scales: their mean and how well it is known, growth since the last time, its feed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import fish
from aquacalc.uncertainty import Triangle

ASKED_TIMES = 10.0
"""A fish so many times heavier or lighter than the middle of the others is asked about. Our own choice."""
SHARE_OF_INTERVAL = 0.95
TRUST = 2.0
"""Own data count n / (n + 2) with n times of growth. Common practice, no source."""
ENOUGH = 20
"""Fish of a good sample. Common practice, no source."""


@dataclass(frozen=True)
class Sample:
    """Fish that were weighed. spread_g: standard deviation of one fish, the usual one of a batch where only
    the whole was weighed (`single` is False); half_g: half of the interval that holds the batch's mean in 95
    of 100 samples, infinite for one fish."""

    count: int
    mean_g: float
    spread_g: float
    half_g: float
    single: bool

    @property
    def low_g(self) -> float:
        """Lower end of the interval; no fish weighs less than nothing."""
        return max(self.mean_g - self.half_g, 0.0)

    @property
    def high_g(self) -> float:
        """Upper end of the interval."""
        return self.mean_g + self.half_g


def one_by_one(weights_g: Sequence[float]) -> Sample:
    """Fish weighed each by itself, g.

    Source: interval of a mean by Student's t (NISTHB).

    >>> found = one_by_one([62, 71, 58, 66, 80, 49, 69, 73])
    >>> round(found.mean_g, 1), round(found.spread_g, 1), round(found.half_g, 1)
    (66.0, 9.6, 8.0)
    """
    weights = np.asarray(weights_g, dtype=np.float64)
    count = weights.size
    spread = float(weights.std(ddof=1)) if count > 1 else math.nan
    half = t_value(count - 1) * spread / math.sqrt(count) if count > 1 else math.inf
    return Sample(count, float(weights.mean()), spread, half, single=True)


def together(total_g: float, count: int) -> Sample:
    """Fish weighed in one bucket, g: their spread is that of usual batches.

    Source: interval of a mean with a known spread (NISTHB); the spread is common practice.
    """
    mean = total_g / count
    spread = fish.WEIGHT_SPREAD * mean
    return Sample(count, mean, spread, t_value(math.inf) * spread / math.sqrt(count), single=False)


def t_value(freedom: float) -> float:
    """Student's t of a two-sided interval of 95 %. Exact, by the inverse of its distribution.

    >>> round(t_value(7), 3)
    2.365
    """
    from scipy.special import ndtri, stdtrit

    chance = (1.0 + SHARE_OF_INTERVAL) / 2.0
    return float(ndtri(chance) if math.isinf(freedom) else stdtrit(freedom, chance))


def odd_one(weights_g: Sequence[float]) -> int | None:
    """Place of the weight that lies farthest from the middle of the others, where that is tenfold; else None.

    Own reckoning.

    >>> odd_one([62.0, 71.0, 5800.0]), odd_one([62.0, 71.0, 58.0])
    (2, None)
    """
    if len(weights_g) < 2:
        return None
    logs = np.log(np.asarray(weights_g, dtype=np.float64))
    away = [abs(one - float(np.median(np.delete(logs, place)))) for place, one in enumerate(logs)]
    # Of two that differ tenfold nobody knows which; the heavier one is asked about.
    worst = max(range(len(away)), key=lambda place: (round(away[place], 9), logs[place]))
    return worst if away[worst] >= math.log(ASKED_TIMES) else None


def sample_wanted(count: float) -> int:
    """Fish of a good sample from a batch. Common practice, no source.

    >>> sample_wanted(35), sample_wanted(8), sample_wanted(400)
    (20, 8, 20)
    """
    return min(math.ceil(count), ENOUGH)


# Between two weighings


@dataclass(frozen=True)
class Growth:
    """Growth from one mean weight to another. sgr_pct_d: specific growth rate; tgc_per1000: as observed, NaN
    where the water let nothing grow, or its warmth is not known."""

    days: int
    start_g: float
    end_g: float
    sgr_pct_d: float
    tgc_per1000: float


def growth(start_g: float, end_g: float, days: int, effective_sum_c_d: float = math.nan) -> Growth:
    """Growth over `days`; effective_sum_c_d: sum of the temperatures that count for growth.

    Source: specific growth rate by definition; thermal growth as `fish.tgc_from_samples`.

    >>> round(growth(66.0, 92.0, 30).sgr_pct_d, 2)
    1.11
    """
    warm = effective_sum_c_d > 0.0
    return Growth(
        days=days,
        start_g=start_g,
        end_g=end_g,
        sgr_pct_d=100.0 * math.log(end_g / start_g) / days,
        tgc_per1000=fish.tgc_from_samples(start_g, end_g, effective_sum_c_d) if warm else math.nan,
    )


def refitted(usual: Triangle, observed_per1000: float, times: int = 1) -> Triangle:
    """Growth coefficient of a batch: the species' own drawn towards what was observed `times` times.

    Common practice, no source: own data count n / (n + 2).

    >>> refitted(Triangle(0.6, 0.9, 1.2), 1.5).typical
    1.1
    """
    own = times / (times + TRUST)
    corners = (usual.low, usual.typical, usual.high)
    return Triangle(*((1.0 - own) * one + own * observed_per1000 for one in corners))


def economic_fcr(feed_kg: float, gain_kg: float) -> float:
    """Feed given per gain of what lives; NaN where nothing was gained. By definition.

    >>> economic_fcr(3.0, 2.0)
    1.5
    """
    return feed_kg / gain_kg if gain_kg > 0.0 else math.nan


def biological_fcr(feed_kg: float, gain_kg: float, dead_kg: float) -> float:
    """Feed given per gain of all fish, with the weight of those that died. By definition.

    >>> biological_fcr(3.0, 2.0, 0.5)
    1.2
    """
    return economic_fcr(feed_kg, gain_kg + dead_kg)
