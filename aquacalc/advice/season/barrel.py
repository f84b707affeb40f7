"""A rain barrel from day to day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from aquacalc.climate.months import DAYS_IN_MONTH
from aquacalc.uncertainty import Floats
from aquacalc.water import top_up


@dataclass(frozen=True, eq=False)
class Barrel:
    """Arrays (members, days). left_l: in the barrel in the evening; missing_l: wanted and not there."""

    left_l: Floats
    missing_l: Floats


def daily(rain_l: Floats, wanted_l: Floats, holds_l: float, starts_l: float) -> Barrel:
    """The barrel's balance: rain comes in, the garden draws, what does not fit runs over.

    rain_l: (days,); wanted_l: (members, days).

    >>> some = daily(np.array([5.0, 0.0, 0.0]), np.array([[2.0, 9.0, 4.0]]), 10.0, 6.0)
    >>> some.left_l.tolist(), some.missing_l.tolist()
    ([[9.0, 0.0, 0.0]], [[0.0, 0.0, 4.0]])
    """
    left, missing = np.zeros_like(wanted_l), np.zeros_like(wanted_l)
    now = np.full(wanted_l.shape[0], starts_l)
    for day in range(wanted_l.shape[1]):
        after = now + rain_l[day] - wanted_l[:, day]
        missing[:, day] = np.maximum(-after, 0.0)
        now = np.clip(after, 0.0, holds_l)
        left[:, day] = now
    return Barrel(left, missing)


def rain_l(monthly_mm: tuple[float, ...], roof_m2: float, first: date, days: int) -> Floats:
    """Litres a day that a roof gives, (days,): a month's rain spread evenly over its days.

    Real rain comes in few days, so that more of it runs over. 1 mm on 1 m2 is 1 L.
    """
    months = [(first + timedelta(days=day)).month - 1 for day in range(days)]
    return np.array([top_up.roof_l(roof_m2, monthly_mm[m] / DAYS_IN_MONTH[m]) for m in months])
