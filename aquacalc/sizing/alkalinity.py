"""How much alkalinity a loop is kept at: what its target pH makes of it, over a floor that lasts from look to
look.

The floor is what the loop uses between two looks at pH and alkalinity. Season, balance, dose table, dose
panel and log ask for it here.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import nitrogen
from aquacalc.climate import months
from aquacalc.constants import DAYS_PER_WEEK, Numbers
from aquacalc.garden import litres, surroundings
from aquacalc.sizing import stock
from aquacalc.uncertainty import Floats, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

LEAST_FLOOR_MG_L, MOST_FLOOR_MG_L = 12.0, 60.0
FLOOR_TIMES = 1.5
"""The floor is what the loop uses between two looks, times this, within both ends: beyond, the answer is to
look more often, or to give base more often. Common practice, no source."""


def floor_mg_l(used_mg_l_day: Numbers, look_every_d: int) -> Floats:
    """Alkalinity, mg/L CaCO3, under which a loop would run out before the next look.

    used_mg_l_day: what the loop uses up in a day; look_every_d: days between two looks.

    >>> [float(floor_mg_l(used, days)) for used, days in ((4.0, 1), (12.0, 1), (12.0, 7))]
    [12.0, 18.0, 60.0]
    """
    wanted = FLOOR_TIMES * np.asarray(used_mg_l_day, dtype=np.float64) * look_every_d
    found: Floats = np.clip(wanted, LEAST_FLOOR_MG_L, MOST_FLOOR_MG_L)
    return found


def floor_of(garden: Garden) -> float:
    """The floor of a garden, by the feed of its most-fed month and how often its grower looks."""
    return float(floor_mg_l(used_mg_l_day(garden), garden.care.look_every_d))


@lru_cache(maxsize=64)
def used_mg_l_day(garden: Garden) -> float:
    """Alkalinity, mg/L CaCO3, that the garden's feed uses up in a day of its most-fed month, in the middle of
    what is known; never of more feed than the grower gives."""
    if not garden.fish:
        return 0.0
    triangles = {name: coefficient(name) for name in surroundings.COEFFICIENTS} | stock.triangles(garden)
    middle = draw(triangles, 1)
    water_c = months.monthly_to_daily(surroundings.water_c(garden, middle))
    feed = float(stock.stock_of(garden, water_c, middle).feed_g_day.max())
    fed = min(feed, garden.care.most_feed_g_day)
    week = use_by_feed(fed, garden.protein_fraction(), litres.litres_of(garden).whole)
    return week.middle / DAYS_PER_WEEK


def kept_mg_l(garden: Garden) -> float:
    """Alkalinity that films are sized at: as it was measured, else as aimed at, over the floor."""
    aim = garden.targets.alkalinity_mg_l
    return aim if garden.last_measured("alkalinity") is not None else max(aim, floor_of(garden))


@dataclass(frozen=True)
class Use:
    """Alkalinity that a week wants replaced, mg/L CaCO3; below zero where it rises."""

    low: float
    middle: float
    high: float


def use_by_feed(feed_g_day: float, protein_fraction: float, volume_l: float) -> Use:
    """Alkalinity that a week's feed uses up, mg/L CaCO3: 0 / 3.6 / 7.1 g per g N that the fish do not keep.

    >>> use = use_by_feed(100.0, 0.32, 1000.0)
    >>> round(use.low), round(use.middle), round(use.high)
    (0, 90, 178)
    """
    left = 1.0 - coefficient("feed_n_retained_share").typical
    nitrogen_g = float(nitrogen.feed_nitrogen_g_day(feed_g_day, protein_fraction)) * left
    per_gram = coefficient("alkalinity_per_feed_n_g_g")
    low, middle, high = (
        DAYS_PER_WEEK * 1000.0 * nitrogen_g * one / volume_l
        for one in (per_gram.low, per_gram.typical, per_gram.high)
    )
    return Use(low, middle, high)
