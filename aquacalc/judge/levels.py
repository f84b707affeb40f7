"""The levels and their order."""

from collections.abc import Iterable
from typing import Literal

Level = Literal["fine", "watch", "act today", "emergency", "not known"]

URGENCY: tuple[Level, ...] = ("emergency", "act today", "watch", "not known", "fine")
"""The levels, the most urgent first: what is not known comes before what is fine."""

SEVERITY: tuple[Level, ...] = ("fine", "watch", "act today", "emergency")
"""The levels of something that is known, the mildest first."""

RANKED: tuple[Level, ...] = URGENCY[::-1]
"""The levels by their rank, which is what arrays of levels hold."""

FINE, NOT_KNOWN, WATCH, ACT, EMERGENCY = range(5)
"""The ranks by name."""


def worst(levels: Iterable[Level]) -> Level:
    """The most urgent of some levels; `fine` where there are none.

    >>> worst(("fine", "not known")), worst(("watch", "not known"))
    ('not known', 'watch')
    """
    return min(levels, key=URGENCY.index, default="fine")


def reaches(level: Level, line: Level) -> bool:
    """Whether a level is as urgent as another one, or more.

    >>> reaches("emergency", "act today"), reaches("not known", "watch")
    (True, False)
    """
    return RANKED.index(level) >= RANKED.index(line)
