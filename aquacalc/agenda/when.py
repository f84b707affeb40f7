"""A day of the plan with its span, from the same tries as every other number."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats, band

SURE_DAYS = 42
"""Days from the first on that are known well; what lies beyond is a band and what moves it (our own
choice)."""


@dataclass(frozen=True)
class When:
    """A day: the median of the tries, and the days between which eight of ten of them lie."""

    day: date
    first: date
    last: date

    @property
    def spread(self) -> bool:
        """Whether the tries differ."""
        return self.first < self.last


def on(day: date) -> When:
    """A day that is decided, the same in all tries."""
    return When(day, day, day)


def of_tries(days: Floats, run: SeasonRun) -> When | None:
    """The day of each try, (members,), as one; None where fewer than half of them have one."""
    found = band(days)
    if np.isnan(float(found.middle)):
        return None
    low, middle, high = (
        run.first + timedelta(days=int(np.floor(float(end) + 0.5)))
        for end in (found.low, found.middle, found.high)
    )
    return When(middle, low, high)
