"""Days around a season, by their position, and spans of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from aquacalc.climate import months
from aquacalc.constants import MONTHS_PER_YEAR

if TYPE_CHECKING:
    from aquacalc.garden.model import Season

Whole = NDArray[np.int64]


def spans(mask: NDArray[np.bool_], least_days: int = 1) -> list[tuple[int, int]]:
    """Unbroken spans in which a mask holds, at least so long: first position and the one after the last.

    >>> spans(np.array([True, False, True, True]), 2)
    [(2, 4)]
    """
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(np.int8))).tolist()
    return [
        (begin, end) for begin, end in zip(edges[::2], edges[1::2], strict=True) if end - begin >= least_days
    ]


@dataclass(frozen=True, eq=False)
class Days:
    """Days in a row around a season, by their position; arrays of shape (days,).

    first: day of position 0; start, end: positions of the season's first and last day; of_year: day of the
    year, 0 to 364, the 29th of February as the 28th; month: 1 to 12; weekday: 0 on Monday.
    """

    first: date
    start: int
    end: int
    of_year: Whole
    month: Whole
    weekday: Whole

    @property
    def count(self) -> int:
        """How many days there are."""
        return self.of_year.size

    def day(self, position: int) -> date:
        """The date of a position."""
        return self.first + timedelta(days=position)

    def position(self, day: date) -> int:
        """The position of a date; below zero before the first day."""
        return (day - self.first).days


def around(season: Season, before: int = 0, after: int = 0) -> Days:
    """The days of a season, and some before and after it.

    >>> from aquacalc.garden.model import Season
    >>> leap = around(Season(date(2028, 2, 28), date(2028, 3, 1)))
    >>> leap.of_year.tolist(), leap.month.tolist(), leap.weekday.tolist()
    ([58, 58, 59], [2, 2, 3], [0, 1, 2])
    """
    first = season.start - timedelta(days=before)
    length = (season.end - season.start).days + 1
    days = np.datetime64(first) + np.arange(before + length + after)
    year = days.astype("datetime64[Y]")
    of_year = (days - year).astype(np.int64)
    number = year.astype(np.int64) + 1970
    leap = (number % 4 == 0) & ((number % 100 != 0) | (number % 400 == 0))
    last_of_february = months.DAYS_IN_MONTH[0] + months.DAYS_IN_MONTH[1]
    return Days(
        first=first,
        start=before,
        end=before + length - 1,
        of_year=of_year - (leap & (of_year >= last_of_february)),
        month=days.astype("datetime64[M]").astype(np.int64) % MONTHS_PER_YEAR + 1,
        weekday=(first.weekday() + np.arange(days.size)) % 7,
    )
