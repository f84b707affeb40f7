"""Backward from a wished stocking date: when to start at the latest, when to order the fish."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from aquacalc.errors import InputError, Problem

SPARE_DAYS = 14
"""Two spare weeks, as growers are advised. Common practice, no source."""
ORDER_DAYS = 28
"""Fingerlings are ordered this long before. Common practice, no source: sellers differ, ask."""
GUESS_DAYS = 42
NEAR_DAYS, FARTHEST_DAYS = 7, 21
IDLE_DAYS = 45
LONGEST_DAYS = 365

PRACTICE_WEEKS = {25.0: (4.0, 6.0), 15.0: (9.0, 12.0)}
"""What growers tell by water temperature: weeks without seed. Common practice, no source."""


@dataclass(frozen=True)
class Backward:
    """Days to be kept for a stocking date.

    start: latest first day with the spare time before it; last: without it. order: when fish are ordered.
    days: from the first dose to both clear in a day, low and high, when begun on `start`.
    """

    stocking: date
    start: date
    last: date
    order: date
    days: tuple[int, int]

    @property
    def ready(self) -> date:
        """The day by which it is ready in 9 of 10 tries."""
        return self.start + timedelta(days=self.days[1])

    @property
    def waits(self) -> bool:
        """Whether it is ready long before the fish come: a winter lies between, and it has to be fed."""
        return (self.stocking - self.ready).days > IDLE_DAYS


def practice_days(temperature_c: float) -> tuple[float, float]:
    """What growers tell for a temperature, in days; along a straight line of the logarithm.

    >>> practice_days(25.0)
    (28.0, 42.0)
    """
    known = sorted(PRACTICE_WEEKS)
    low, high = (
        7.0
        * float(np.exp(np.interp(temperature_c, known, [np.log(PRACTICE_WEEKS[one][end]) for one in known])))
        for end in (0, 1)
    )
    return round(low, 6), round(high, 6)


def before(stocking: date, most_days: float) -> date:
    """The last day from which a start-up of `most_days` ends in time.

    >>> before(date(2027, 5, 15), 42.0)
    datetime.date(2027, 4, 3)
    """
    return stocking - timedelta(days=int(np.ceil(most_days)))


def latest(
    stocking: date,
    needed: Callable[[date], tuple[float, float]],
    today: date | None = None,
    spare_days: int = SPARE_DAYS,
    order_days: int = ORDER_DAYS,
) -> Backward:
    """The latest first day for a stocking date, with and without spare time.

    needed: days from a first day to both clear in a day, low and high (10th and 90th of the tries); it
    changes with the day, because water is warmer in one month than in another. today: no start before it.
    Raises `InputError` where no start of the year before is early enough, or where today is too late.
    """
    last = _latest(stocking, stocking, stocking - timedelta(days=GUESS_DAYS), needed)
    ready = stocking - timedelta(days=spare_days)
    start = _latest(stocking, ready, last - timedelta(days=spare_days), needed)
    if today is not None and last < today:
        raise InputError(Problem("problem-startup-too-late", "", stocking.isoformat(), (last.isoformat(),)))
    low, high = needed(start)
    return Backward(
        stocking=stocking,
        start=start,
        last=last,
        order=stocking - timedelta(days=order_days),
        days=(int(np.ceil(low)), int(np.ceil(high))),
    )


def _latest(stocking: date, ready: date, guess: date, needed: Callable[[date], tuple[float, float]]) -> date:
    """Back from a guess until a start on that day is ready in time, each time by the days that are missing.

    Never by more than three weeks: before a winter a start may be quicker again.
    """
    earliest = stocking - timedelta(days=LONGEST_DAYS)
    begun = guess
    while begun >= earliest:
        high = needed(begun)[1]
        late = int(np.ceil(high)) - (ready - begun).days if np.isfinite(high) else FARTHEST_DAYS
        if late <= 0:
            return begun
        begun -= timedelta(days=min(max(late, NEAR_DAYS), FARTHEST_DAYS))
    raise InputError(Problem("problem-startup-never", "", stocking.isoformat()))
