"""Weather that departs from the usual year: daily anomalies of the air, and how water follows them."""

import numpy as np
from numpy.typing import NDArray

from aquacalc.constants import HOURS_PER_DAY

Floats = NDArray[np.float64]

LAG_ONE = 0.75
"""Correlation of the anomaly from day to day: 0.75 in the open Seattle file, 2012 to 2015 (computed)."""


def daily_k(
    stream: np.random.Generator,
    days: int,
    members: int,
    deviation_k: Floats | float,
    lag_one: float = LAG_ONE,
) -> Floats:
    """Anomaly of the daily mean air, K, shape (days, members): AR(1) with a standard deviation a member.

    stream: a seeded generator, which alone decides the result. Correlation from VEGADATA (computed).
    """
    own: Floats = stream.standard_normal((days, members)) * np.asarray(deviation_k)
    fresh = (1.0 - lag_one**2) ** 0.5
    found: Floats = np.empty_like(own)
    now = own[0]
    for day in range(days):
        now = now * lag_one + own[day] * fresh if day else own[0]
        found[day] = now
    return found


def followed_k(air_k: Floats, time_constant_h: float) -> Floats:
    """What a body of water makes of an anomaly of the air, K, (days, ...): it follows with its own lag.

    Own reckoning: a first-order lag.
    """
    left = float(np.exp(-HOURS_PER_DAY / time_constant_h))
    found = np.empty_like(air_k)
    now = np.zeros_like(air_k[0])
    for day, air in enumerate(air_k):
        now = now * left + air * (1.0 - left)
        found[day] = now
    return found


def followed_share(time_constant_h: float, lag_one: float = LAG_ONE) -> float:
    """Standard deviation of the water's anomaly over that of the air, 0 to 1.

    Own reckoning, exact for an AR(1) air through a first-order lag.

    >>> round(followed_share(24.0), 2)
    0.9
    """
    left = float(np.exp(-HOURS_PER_DAY / time_constant_h))
    variance = (1.0 - left) / (1.0 + left) * (1.0 + left * lag_one) / (1.0 - left * lag_one)
    return float(variance**0.5)
