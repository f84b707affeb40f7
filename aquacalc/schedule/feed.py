"""Feed as a household gives it: one amount for a week, in parts of a spoon."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

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
