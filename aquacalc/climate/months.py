"""From monthly means to the days of a year and back. 365 days, the first of January first."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR

Floats = NDArray[np.float64]

DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MIDDLE_DAYS = tuple(sum(DAYS_IN_MONTH[:m]) + (DAYS_IN_MONTH[m] - 1) / 2.0 for m in range(MONTHS_PER_YEAR))
"""Middle of each month as a day of the year, counted from 0."""


def month_of_day() -> NDArray[np.int64]:
    """Month of each day of the year, 0 to 11, shape (365,)."""
    return np.repeat(np.arange(MONTHS_PER_YEAR), DAYS_IN_MONTH)


def day_of_year(month: int, day: int) -> int:
    """Day of the year, 0 to 364; the 29th of February counts as the 28th. By definition.

    >>> day_of_year(3, 1)
    59
    """
    return sum(DAYS_IN_MONTH[: month - 1]) + min(day, DAYS_IN_MONTH[month - 1]) - 1


def monthly_means(daily: ArrayLike) -> Floats:
    """Means of the months: (..., 365) to (..., 12). By definition.

    >>> [float(mean) for mean in monthly_means(np.full(365, 7.0))[:2]]
    [7.0, 7.0]
    """
    means: Floats = np.asarray(daily, dtype=np.float64) @ _averages().T
    return means


def monthly_to_daily(monthly: ArrayLike) -> Floats:
    """A smooth year through monthly means: (..., 12) to (..., 365).

    A periodic cubic spline with one knot in the middle of each month, whose heights are chosen so that each
    month's mean comes out exactly. It may pass a little beyond the highest and lowest month; where a
    quantity cannot be negative the caller has to cut at zero. Own reckoning, checked with SCIPY.

    >>> daily = monthly_to_daily([4, 5, 8, 12, 16, 20, 22, 21, 18, 13, 8, 5])
    >>> daily.shape, round(float(monthly_means(daily)[6]), 6)
    ((365,), 22.0)
    """
    daily: Floats = np.asarray(monthly, dtype=np.float64) @ _weights().T
    return daily


@cache
def _averages() -> Floats:
    share = (month_of_day() == np.arange(MONTHS_PER_YEAR)[:, None]).astype(np.float64)
    averages: Floats = share / share.sum(axis=1, keepdims=True)
    return averages


@cache
def _weights() -> Floats:
    # Days from knot heights, then knot heights from the wanted means.
    spline = _spline()
    weights: Floats = spline @ np.linalg.inv(_averages() @ spline)
    return weights


def _spline() -> Floats:
    """Days of the periodic cubic spline from its heights in the middle of each month, (365, 12)."""
    knots = np.asarray(MIDDLE_DAYS)
    width = np.diff(np.append(knots, knots[0] + DAYS_PER_YEAR))
    before = np.roll(width, 1)
    identity = np.eye(MONTHS_PER_YEAR)
    following, preceding = np.roll(identity, -1, axis=0), np.roll(identity, 1, axis=0)
    # Equal slopes from both sides of each knot give the curvatures there.
    bending = (
        np.diag((before + width) / 3.0)
        + np.diag(width / 6.0) @ np.roll(identity, 1, axis=1)
        + np.diag(before / 6.0) @ np.roll(identity, -1, axis=1)
    )
    rises = np.diag(1.0 / width) @ (following - identity) - np.diag(1.0 / before) @ (identity - preceding)
    curvature = np.linalg.solve(bending, rises)

    days = np.arange(DAYS_PER_YEAR)
    left = (np.searchsorted(knots, days, side="right") - 1) % MONTHS_PER_YEAR
    right = (left + 1) % MONTHS_PER_YEAR
    along = ((days - knots[left]) % DAYS_PER_YEAR)[:, None]
    whole = width[left][:, None]
    a, b = 1.0 - along / whole, along / whole
    straight = a * identity[left] + b * identity[right]
    bent = ((a**3 - a) * curvature[left] + (b**3 - b) * curvature[right]) * whole**2 / 6.0
    daily: Floats = straight + bent
    return daily
