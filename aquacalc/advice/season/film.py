"""What comes of new fish, and which days are told: shared by ammonia and nitrite."""

from __future__ import annotations

from typing import Literal, Protocol

from aquacalc.advice.season.days import Look, Spell, Stretch, spells
from aquacalc.judge.levels import Level
from aquacalc.tables import Row

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
        """The level of the day."""


def spells_of(look: Look, seen: Judged) -> tuple[Spell, ...]:
    """Spells past a line, and such as only the unfavourable tenth of the tries has."""
    middle = look.levels(lambda day, row: seen.level(day, row))
    tenth = look.levels(lambda day, row: seen.level(day, row, far=True))
    near = look.levels(lambda day, row: seen.level(day, row, times=EASE))
    return spells(middle, tenth, near)


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
