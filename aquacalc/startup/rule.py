"""The daily look: what a grower who forecasts is taken to do each morning, and when the filter is complete.

Rule P1 of the nitrogen reference, section 5 (practice). On paper none of these doses becomes an order by
date.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from aquacalc.uncertainty import Floats

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Rule:
    """Lines of the daily look, mg/L.

    to_tan: TAN is brought up to this when it is at `low_tan` or below and nitrite-N at `high_nitrite` or
    below. Alkalinity under `low_alkalinity` is brought to `full_alkalinity`. Complete: a dose of
    `real_dose` or more the day before, and both readings at `clear` or below.
    """

    to_tan_mg_l: float = 2.0
    low_tan_mg_l: float = 0.5
    high_nitrite_mg_l: float = 5.0
    low_alkalinity_mg_l: float = 80.0
    full_alkalinity_mg_l: float = 150.0
    real_dose_mg_l: float = 1.4
    clear_mg_l: float = 0.25


P1 = Rule()


class Doses(NamedTuple):
    """What one morning's look gives, mg/L: ammonium salt as N, carbonate as CaCO3; (members,)."""

    tan_mg_l: Floats
    alkalinity_mg_l: Floats


def look(tan_mg_l: Floats, nitrite_mg_l: Floats, alkalinity_mg_l: Floats, rule: Rule = P1) -> Doses:
    """Doses of a morning, for each member by its own water.

    >>> look(np.array([0.1, 1.0]), np.array([2.0, 2.0]), np.array([70.0, 90.0])).tan_mg_l.round(3).tolist()
    [1.9, 0.0]
    """
    hungry = (tan_mg_l <= rule.low_tan_mg_l) & (nitrite_mg_l <= rule.high_nitrite_mg_l)
    soft = alkalinity_mg_l < rule.low_alkalinity_mg_l
    return Doses(
        np.where(hungry, np.maximum(rule.to_tan_mg_l - tan_mg_l, 0.0), 0.0),
        np.where(soft, rule.full_alkalinity_mg_l - alkalinity_mg_l, 0.0),
    )


def passes(tan_mg_l: Floats, nitrite_mg_l: Floats, dosed_mg_l: Floats, rule: Rule = P1) -> Flags:
    """Whether a day shows that yesterday's dose was cleared; (days, members).

    tan_mg_l, nitrite_mg_l: before the doses of each day; dosed_mg_l: ammonia-N given on each day.
    """
    found = np.zeros(tan_mg_l.shape, dtype=np.bool_)
    clear = (tan_mg_l <= rule.clear_mg_l) & (nitrite_mg_l <= rule.clear_mg_l)
    found[1:] = (dosed_mg_l[:-1] >= rule.real_dose_mg_l) & clear[1:]
    return found
