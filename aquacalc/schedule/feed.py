"""Feed as a household gives it: one amount for a week, in parts of a spoon."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

HALF, QUARTER = 0.5, 0.25


def spoon_g(garden: Garden, weight_g: float = float("inf")) -> float:
    """Feed that a level spoon holds, of the bag for fish of a weight (not given: for the largest).

    It is the grower's own, else that of a usual pellet, which the garden lists as assumed.
    """
    fitting = [bag for bag in garden.feeds if bag.from_weight_g <= weight_g]
    return max(fitting or garden.feeds, key=lambda bag: bag.from_weight_g).spoon_g


def in_spoons(feed_g_day: float, spoon_g: float) -> float:
    """Spoons to the nearest half, below half a spoon to the nearest quarter.

    >>> [in_spoons(grams, 5.0) for grams in (12.0, 3.0, 1.4, 0.2)]
    [2.5, 0.5, 0.25, 0.0]
    """
    spoons = feed_g_day / spoon_g
    step = HALF if spoons >= HALF else QUARTER
    return float(np.floor(spoons / step + 0.5) * step)


def weekly_steps(daily_g: ArrayLike) -> Floats:
    """One amount of feed a day for each week: (..., days) to (..., weeks), the first week from the first day.

    The mean of the days on which fish are fed; 0 in a week without any. The last week may be short.

    >>> weekly_steps([1.0] * 7 + [0.0, 0.0, 3.0, 5.0]).tolist()
    [1.0, 4.0]
    """
    daily = np.asarray(daily_g, dtype=np.float64)
    missing = -daily.shape[-1] % DAYS_PER_WEEK
    whole = np.concatenate([daily, np.zeros((*daily.shape[:-1], missing))], axis=-1)
    weeks = whole.reshape(*daily.shape[:-1], -1, DAYS_PER_WEEK)
    fed = np.count_nonzero(weeks > 0.0, axis=-1)
    steps: Floats = weeks.sum(axis=-1) / np.maximum(fed, 1)
    return steps
