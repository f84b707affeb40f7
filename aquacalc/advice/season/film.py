"""What bacteria can hold, and what comes of new fish: shared by ammonia and nitrite.

Where the cold keeps bacteria from holding a substance under its line, no action brings it there. The balance
raises such a line and the season feeds on; here it leaves the level and becomes a finding of its own.
"""

from __future__ import annotations

from typing import Literal, Protocol

import numpy as np

from aquacalc import nitrogen
from aquacalc.advice.season.days import Look, Spell, Stretch, spells, stretches
from aquacalc.judge.levels import Level
from aquacalc.season.setting import HIGHEST_FLOOR_MG_L
from aquacalc.sizing import limits
from aquacalc.tables import Row
from aquacalc.uncertainty import Floats

AFTER_STOCKING_DAYS = 42
"""A worst day so soon after fish came is put down to the filter's growth. Common practice, no source."""
GROWN_DAYS = 70
"""What lasts longer than this after a stocking has other reasons as well. Common practice, no source."""
ON_ARRIVAL_DAYS = 2
"""What is worst so soon was in the water before the fish came."""
EASE = 1.25
"""A span ends where the water is under four fifths of a line, as feeding begins again in the season."""
Stocking = Literal["before", "after"]


class Judged(Protocol):
    """A substance on each day; far: its unfavourable tenth instead of its middle; times: so much of it."""

    def level(self, day: int, row: Row, far: bool = False, times: float = 1.0) -> Level:
        """The level, without lines that no bacteria could keep."""

    def spared(self, day: int, row: Row) -> bool:
        """Whether such a line was left out."""


def holds_mg_l(look: Look, step: nitrogen.Step) -> Floats:
    """What bacteria can be asked to hold on each day, mg N/L, as in the balance and the season."""
    aims, typical = look.garden.targets, nitrogen.Kinetics.typical()
    water = look.band("water_c").middle
    lowest = nitrogen.lowest_substrate_mg_l(
        step, water, aims.ph, aims.oxygen_mg_l, aims.alkalinity_mg_l, typical
    )
    held: Floats = limits.HOLDABLE * np.minimum(lowest, HIGHEST_FLOOR_MG_L)
    return held


def spans(look: Look, seen: Judged) -> tuple[tuple[Spell, ...], tuple[Stretch, ...]]:
    """Spells past a line, and spans between them past a line only that no bacteria could keep."""
    middle = look.levels(lambda day, row: seen.level(day, row))
    tenth = look.levels(lambda day, row: seen.level(day, row, far=True))
    near = look.levels(lambda day, row: seen.level(day, row, times=EASE))
    past = spells(middle, tenth, near)
    spared = np.array([any(seen.spared(day, row) for row in rows) for day, rows in enumerate(look.species)])
    for spell in past:
        spared[spell.around.slice] = False
    return past, stretches(spared)


def with_fish(look: Look, stretch: Stretch) -> list[int]:
    """The days of a span on which fish are in the water."""
    return [day for day in range(stretch.first, stretch.last + 1) if look.species[day]]


def stocking(look: Look, worst: int, stretch: Stretch) -> tuple[Stocking, int] | None:
    """Whether new fish are the reason of a span, and when they came.

    They met what was there before them, or the filter has to grow after them.
    """
    came = [look.run.day(batch.stocked) for batch in look.garden.fish]
    last = max((day for day in came if 0 < day <= worst), default=None)
    if last is None or worst - last > AFTER_STOCKING_DAYS or stretch.last - last > GROWN_DAYS:
        return None
    return ("before" if worst - last <= ON_ARRIVAL_DAYS else "after"), last
