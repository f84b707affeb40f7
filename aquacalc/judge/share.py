"""Levels of a demand against its limit, and of the turnover of a tank."""

from aquacalc.judge import lines
from aquacalc.judge.levels import Level

NEAR_SHARE = 0.8
"""Share of a limit from which it counts as near. Common practice, no source."""


def level(share: float) -> Level:
    """Demand as a share of a limit that it must not exceed.

    >>> [level(share) for share in (0.5, 0.9, 1.1)]
    ['fine', 'watch', 'act today']
    """
    return "act today" if share > 1.0 else "watch" if share > NEAR_SHARE else "fine"


def turnover_level(turnover_1_h: float) -> Level:
    """Tank volumes an hour, as a hint; the oxygen balance decides."""
    return lines.level("turnover", turnover_1_h)


def turns_slowly(turnover_1_h: float) -> bool:
    """Whether the turnover is below the usual range rather than above it."""
    return turnover_1_h <= lines.begins_at("turnover", "watch", above=False)
