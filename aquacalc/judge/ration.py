"""How much of their ration fish are given while the water is not good: a ladder of six levels.

X is the larger of un-ionised ammonia and of nitrite, each against its line of `act today`; total ammonia
alone never lowers a ration, for trout fed through months of 1 to 3 mg/L grew as well (WOOD04). Steps down are
quick, steps up wait. Oxygen and temperature have rules of their own; the lower level counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from aquacalc.constants import Numbers
from aquacalc.uncertainty import Floats

LEVELS = (1.0, 0.8, 0.65, 0.5, 0.25, 0.0)
"""Shares of the wanted ration, from the top of the ladder."""
NONE_ABOVE, QUARTER_ABOVE, HALF_ABOVE, LESS_ABOVE = 3.0, 2.0, 1.5, 1.0
"""X above which nothing is fed at once, at most a quarter, at most half; above the last one level less."""
CALM_BELOW = 0.7
"""X of a calm morning."""
MORNINGS_UP, DAYS_DOWN, DAYS_CEILING = 3, 2, 14
"""Calm mornings in a row for one level more; days between two single steps down; calm days for a higher
ceiling. The whole ladder is common practice, no source: simulated loops in balance never step on it."""
_MOST_CEILING = len(LEVELS) - 2
ONE_LESS = 1
"""Place on the ladder one level under the full ration."""

Places = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Ladder:
    """Where each member stands, (members,): place on `LEVELS`, the best place it may climb to, calm mornings
    in a row, calm days since the last step down, days since then."""

    place: Places
    ceiling: Places
    calm: Places
    rested: Places
    since: Places

    @property
    def share(self) -> Floats:
        """Share of the wanted ration."""
        found: Floats = np.array(LEVELS)[self.place]
        return found


def top(members: int) -> Ladder:
    """Everyone on full ration."""
    nothing = np.zeros(members, dtype=np.int64)
    return Ladder(nothing, nothing, nothing, nothing, nothing + DAYS_DOWN)


def share_of_line(
    unionised_mg_l: Numbers, nitrite_mg_l: Numbers, unionised_act_mg_l: Numbers, nitrite_act_mg_l: Numbers
) -> Numbers:
    """X, of nitrogen in mg/L; nitrite's line by the chloride of the water. By definition.

    >>> float(share_of_line(0.025, 0.6, 0.05, 0.3))
    2.0
    """
    return np.maximum(unionised_mg_l / unionised_act_mg_l, nitrite_mg_l / nitrite_act_mg_l)


def at_most(x: Numbers) -> Places:
    """Place on the ladder above which X lets nobody feed, from this morning on.

    >>> [LEVELS[place] for place in at_most(np.array([1.4, 1.6, 2.5, 3.5]))]
    [1.0, 0.5, 0.25, 0.0]
    """
    places = [5, 4, 3]
    return np.select([x > NONE_ABOVE, x > QUARTER_ABOVE, x > HALF_ABOVE], places, 0).astype(np.int64)


def one_look(x: Numbers) -> Places:
    """Place on the ladder that a single look at the water allows, where the full ration was given before.

    >>> [LEVELS[place] for place in one_look(np.array([0.9, 1.2, 1.6]))]
    [1.0, 0.8, 0.5]
    """
    found: Places = np.maximum(at_most(x), np.asarray(x > LESS_ABOVE) * ONE_LESS)
    return found


def look(ladder: Ladder, x: Floats, emergency: NDArray[np.bool_] | bool = False) -> Ladder:
    """The ladder after a morning's look. emergency: nothing is fed, whatever X.

    After a step down the ceiling is the level below the one that failed, though never none at all; it rises
    by a level with so many calm days.
    """
    since = ladder.since + 1
    slowly = (x > LESS_ABOVE) & (since >= DAYS_DOWN)
    lower = np.minimum(np.maximum(ladder.place + slowly, at_most(x)), len(LEVELS) - 1)
    lower = np.where(emergency, len(LEVELS) - 1, lower)
    falls = lower > ladder.place
    quiet = x < CALM_BELOW
    calm = np.where(quiet, ladder.calm + 1, 0)
    rested = np.where(falls, 0, ladder.rested + quiet)
    risen = rested >= DAYS_CEILING
    ceiling = np.where(falls, np.minimum(ladder.place + 1, _MOST_CEILING), ladder.ceiling)
    ceiling = np.maximum(ceiling - risen, 0)
    climbs = (calm >= MORNINGS_UP) & (lower > ceiling)
    return Ladder(
        place=lower - climbs,
        ceiling=ceiling,
        calm=np.where(climbs, 0, calm),
        rested=np.where(risen, 0, rested),
        since=np.where(falls, 0, since),
    )
