"""Feed that a plan never goes beyond: what oxygen and filter carry in each calendar month."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.sizing import balance
from aquacalc.sizing.result import Balance, LimitKey
from aquacalc.uncertainty import MEMBERS, SEED

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

CAPPED_BY: tuple[LimitKey, ...] = ("oxygen", "nitrification")
"""Limits that less feed keeps to. Density and the power cut go by the fish that are there, fed or not."""
ByMonth = tuple[float, ...]
"""Of the twelve calendar months, January first."""
UNCAPPED: ByMonth = (math.inf,) * MONTHS_PER_YEAR


def by_month_g_day(found: Balance) -> ByMonth:
    """The smallest middle of these limits, g of feed a day; infinite in a month in which none has an answer.
    Source: own reckoning, by definition.
    """
    by_month = np.array(UNCAPPED)
    order = np.array(found.months) - 1
    for limit in found.limits:
        if limit.key in CAPPED_BY and limit.counts:
            middle = np.broadcast_to(limit.feed_g_day.middle, MONTHS_PER_YEAR)
            by_month[order] = np.fmin(by_month[order], middle)
    return tuple(by_month.tolist())


def of_garden(garden: Garden, members: int = MEMBERS, seed: int = SEED) -> ByMonth:
    """The same of a garden's own balance; a single try goes by the usual number of them, for a cap is a
    middle."""
    if not garden.fish:
        return UNCAPPED
    return by_month_g_day(balance.balance(garden, members if members > 1 else MEMBERS, seed))
