"""What the daily extremes of air temperature mean for plants: frost dates and growing degree days."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc.possible import possible

Floats = NDArray[np.float64]

MIDSUMMER_DAY = 181
"""The first of July splits a northern year into spring and autumn; the first of January a southern one."""

YEARS_FOR_SPREAD = 10
NINE_IN_TEN = 1.28  # standard deviations to the 90th percentile of a normal distribution


@dataclass(frozen=True)
class FrostDates:
    """Frost of several years, days of the year 0 to 364; NaN where no frost came.

    last_spring, first_autumn: one a year. last_spring_safe, first_autumn_safe: the dates that nine years
    in ten keep; with fewer than ten years the latest and earliest seen, which says less.
    """

    last_spring: Floats
    first_autumn: Floats
    last_spring_median: float
    first_autumn_median: float
    last_spring_safe: float
    first_autumn_safe: float


@possible
def frost_dates(air_min_c: ArrayLike, southern: bool = False, threshold_c: float = 0.0) -> FrostDates:
    """Last spring and first autumn frost from daily minima, shape (years, 365) or (365,).

    Air at 2 m that reads 0 C can be 2 to 4 K colder at the leaf on a clear still night (from memory).
    """
    frost = np.atleast_2d(np.asarray(air_min_c, dtype=np.float64)) <= threshold_c
    early, late = frost[:, :MIDSUMMER_DAY], frost[:, MIDSUMMER_DAY:]
    if southern:
        last = np.where(late.any(axis=1), frost.shape[1] - 1 - np.argmax(late[:, ::-1], axis=1), np.nan)
        first = np.where(early.any(axis=1), np.argmax(early, axis=1), np.nan)
    else:
        last = np.where(early.any(axis=1), MIDSUMMER_DAY - 1 - np.argmax(early[:, ::-1], axis=1), np.nan)
        first = np.where(late.any(axis=1), MIDSUMMER_DAY + np.argmax(late, axis=1), np.nan)
    return FrostDates(
        last_spring=last,
        first_autumn=first,
        last_spring_median=_median(last),
        first_autumn_median=_median(first),
        last_spring_safe=_kept_by_most(last),
        first_autumn_safe=-_kept_by_most(-first),
    )


def _median(days: Floats) -> float:
    known = days[~np.isnan(days)]
    return float(np.median(known)) if known.size else float("nan")


def _kept_by_most(days: Floats) -> float:
    known = days[~np.isnan(days)]
    if not known.size:
        return float("nan")
    if known.size < YEARS_FOR_SPREAD:
        return float(known.max())
    return float(known.mean() + NINE_IN_TEN * known.std(ddof=1))


@possible
def growing_degree_days(
    air_max_c: ArrayLike,
    air_min_c: ArrayLike,
    base_c: float,
    cap_c: float = np.inf,
    method: Literal["mean", "extremes"] = "mean",
) -> Floats:
    """Degree days (C d) of each day above a base, temperatures cut at a cap.

    `mean` takes the day's mean and compares it with the base; `extremes` first raises each extreme to the
    base. The two differ widely in cool months, so a base belongs to a method.
    Source: MCM97 (read, its abstract).

    >>> float(growing_degree_days(16, 4, 10)), float(growing_degree_days(16, 4, 10, method="extremes"))
    (0.0, 3.0)
    """
    high = np.minimum(np.asarray(air_max_c, dtype=np.float64), cap_c)
    low = np.minimum(np.asarray(air_min_c, dtype=np.float64), cap_c)
    if method == "extremes":
        high, low = np.maximum(high, base_c), np.maximum(low, base_c)
    days: Floats = np.maximum((high + low) / 2.0 - base_c, 0.0)
    return days
