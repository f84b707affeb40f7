"""Water that grows warmer or colder by the day: the line through its readings, and when it meets another."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.climate.days import NINE_IN_TEN
from aquacalc.possible import possible

Floats = NDArray[np.float64]
LEAST_READINGS = 4
"""With fewer a line has no spread worth telling. Our own choice, no source."""
LEAST_SPREAD_K = 0.3
"""Readings scatter at least this much: hour of the day and thermometer. Our own choice, no source."""
FARTHEST_DAYS = 30.0
"""No line is followed farther: seasons turn. Our own choice, no source."""


@dataclass(frozen=True)
class Trend:
    """A line through readings: water at the last of them, its slope a day, the slope's standard error."""

    now_c: float
    slope_k_d: float
    error_k_d: float

    @property
    def sure(self) -> bool:
        """Whether eight tries of ten of the slope lie on one side of nought."""
        return abs(self.slope_k_d) > NINE_IN_TEN * self.error_k_d

    def days_to(self, line_c: float) -> tuple[float, float, float]:
        """Days from the last reading to a line: at the fast end of the slope, its middle, its slow end.

        Infinite where that slope does not lead there within `FARTHEST_DAYS`; 0 where the water is beyond it.
        By definition; the slope's ends hold eight tries of ten.
        """
        gap = line_c - self.now_c
        way = 1.0 if gap >= 0.0 else -1.0
        ends = (self.slope_k_d + way * end * NINE_IN_TEN * self.error_k_d for end in (1.0, 0.0, -1.0))
        days = (gap / end if end * way > 0.0 else np.inf for end in ends)
        fast, middle, slow = (float(one) if one <= FARTHEST_DAYS else np.inf for one in days)
        return fast, middle, slow


@possible
def trend(days: ArrayLike, water_c: ArrayLike) -> Trend:
    """The line through readings of at least `LEAST_READINGS` days. Exact, by least squares.

    >>> found = trend([0.0, 1.0, 2.0, 3.0], [20.0, 20.5, 21.0, 21.5])
    >>> round(found.slope_k_d, 3), round(found.days_to(23.0)[1], 2)
    (0.5, 3.0)
    """
    day, water = np.asarray(days, dtype=np.float64), np.asarray(water_c, dtype=np.float64)
    slope, start = np.polyfit(day, water, 1)
    left = water - start - slope * day
    spread = max(float(np.sqrt(np.sum(left**2) / (day.size - 2))), LEAST_SPREAD_K)
    error = spread / float(np.sqrt(np.sum((day - day.mean()) ** 2)))
    return Trend(float(start + slope * day.max()), float(slope), error)
